import { seeded } from '../reference/optics/seeded.ts';
import {
  boxShare,
  type MapSetting,
  type MapTrial,
  nextTrial,
  type SettingBox,
  type TrialOutcome,
} from '../src/index.ts';

type Random = ReturnType<typeof seeded>;
type Shop = (setting: Pick<MapSetting, 'temperatureC'> & { voltageV: number }) => TrialOutcome;
interface Box extends SettingBox {
  temperatureC: { low: number; high: number };
  voltageV: { low: number; high: number };
}
type Counts = Record<'right' | 'wrong' | 'untested', number>;

const STRIPS = 12;
const FIXED = { timeS: 300, strength: 50 };

/**
 * A shop's steel: nothing below a voltage and a temperature, black above another, interference between; the borders lie,
 * lean and bend as chance has it. Figures around those of the starting table of steel (common practice, no source).
 */
function randomShop(random: Random): Shop {
  const [coldC, darkC] = [random.uniform(36, 44), random.uniform(65, 80)];
  const [coldLean, darkLean] = [random.uniform(-7.5, 7.5), random.uniform(-15, 5)];
  const bend = random.uniform(-6, 6);
  const leastV = random.uniform(1, 1.8);
  return ({ temperatureC, voltageV }) => {
    const off = voltageV - 2;
    if (voltageV < leastV || temperatureC < coldC + coldLean * off + bend * off ** 2) return 'none';
    return temperatureC > darkC + darkLean * off ? 'dark' : 'interference';
  };
}

/** A recipe for interference: its centre gives it, its corners may not. */
function randomBox(random: Random, shop: Shop): Box {
  for (;;) {
    const centre = { temperatureC: random.uniform(40, 80), voltageV: random.uniform(1.2, 2.8) };
    if (shop(centre) !== 'interference') continue;
    const [halfC, halfV] = [random.uniform(5, 10), random.uniform(0.16, 0.4)];
    return {
      temperatureC: { low: centre.temperatureC - halfC, high: centre.temperatureC + halfC },
      voltageV: { low: centre.voltageV - halfV, high: centre.voltageV + halfV },
      ...FIXED,
    };
  }
}

/** Runs a strip: the tank is 1 °C and 0.03 V off what is written down. */
const run = (shop: Shop, random: Random, setting: { temperatureC: number; voltageV: number }): MapTrial => ({
  ...FIXED,
  ...setting,
  outcome: shop({
    temperatureC: setting.temperatureC + random.normal(),
    voltageV: setting.voltageV + 0.03 * random.normal(),
  }),
});

const inside = ({ temperatureC, voltageV }: Box, along: number, up: number) => ({
  temperatureC: temperatureC.low + along * (temperatureC.high - temperatureC.low),
  voltageV: voltageV.low + up * (voltageV.high - voltageV.low),
});

const ways: Record<
  string,
  (
    box: Box,
    runAt: (setting: { temperatureC: number; voltageV: number }) => MapTrial,
    random: Random,
  ) => MapTrial[]
> = {
  suggested: (box, runAt) => {
    const trials = [runAt(inside(box, 0.5, 0.5))];
    while (trials.length < STRIPS) {
      const next = nextTrial({ trials, target: FIXED.strength, box, wanted: 'interference' });
      const { temperatureC, voltageV = 0 } = next.setting;
      trials.push(runAt({ temperatureC, voltageV }));
    }
    return trials;
  },
  'on a grid': (box, runAt) =>
    Array.from({ length: STRIPS }, (_, index) =>
      runAt(inside(box, ((index % 4) + 0.5) / 4, (Math.floor(index / 4) + 0.5) / 3)),
    ),
  'at random': (box, runAt, random) =>
    Array.from({ length: STRIPS }, () => runAt(inside(box, random.uniform(), random.uniform()))),
};

/** What the map says of 15 by 15 places in the box, against the truth. */
function judge(shop: Shop, box: Box, trials: readonly MapTrial[]): Counts {
  const counts: Counts = { right: 0, wrong: 0, untested: 0 };
  const places = Array.from({ length: 225 }, (_, index) =>
    inside(box, ((index % 15) + 0.5) / 15, (Math.floor(index / 15) + 0.5) / 15),
  );
  for (const place of places) {
    const { wanted, other } = boxShare({
      trials,
      target: FIXED.strength,
      box: { ...FIXED, ...place },
      wanted: 'interference',
    });
    const claimed = wanted > 0 ? true : other > 0 ? false : null;
    if (claimed === null) counts.untested += 100 / places.length;
    else counts[claimed === (shop(place) === 'interference') ? 'right' : 'wrong'] += 100 / places.length;
  }
  return counts;
}

/**
 * What 12 strips tell of a recipe's box in random steel shops at a fixed strength and time, suggested one by one, on a grid
 * and at random: mean percent of the box that is told right, told wrong, and not told.
 */
export function steelShops({
  shops,
  seed,
}: {
  shops: number;
  seed: number;
}): Record<string, Counts & { strips: number }> {
  const random = seeded(seed);
  const sums = Object.fromEntries(
    Object.keys(ways).map((way) => [way, { right: 0, wrong: 0, untested: 0, strips: 0 }]),
  );
  for (let index = 0; index < shops; index += 1) {
    const shop = randomShop(random);
    const box = randomBox(random, shop);
    for (const [way, trialsOf] of Object.entries(ways)) {
      const trials = trialsOf(box, (setting) => run(shop, random, setting), random);
      const sum = sums[way];
      if (sum === undefined) continue;
      const counts = judge(shop, box, trials);
      sum.right += counts.right / shops;
      sum.wrong += counts.wrong / shops;
      sum.untested += counts.untested / shops;
      sum.strips += trials.length / shops;
    }
  }
  return sums;
}
