import { filmModel } from '../../src/optics/film-model.ts';
import {
  deltaE2000,
  filmColour,
  fitFilmGrowth,
  type Lab,
  matchColour,
  suspectCoupon,
  thicknessFromVoltage,
  voltageWindow,
  windowLimits,
} from '../../src/index.ts';
import { titaniumSystem } from '../../src/optics/systems.ts';
import { regime } from './fitted-series.ts';
import { seeded } from './seeded.ts';
import { type TrueGrowth, trueThickness } from './simulated-series.ts';

const model = filmModel(titaniumSystem);
export const TOLERANCE_DELTA_E = 3;
const LOTS = 200;

/** A shop that colours titanium: what it does not know of itself. */
interface Shop {
  growth: TrueGrowth;
  thicknessSdNm: number;
  colourSd: number;
  /** Share of the light that a matte surface scatters before the film colours it: 0 is polished. */
  matte: number;
}

const grey: Lab = { L: 70, a: 0, b: 0 };
const mixed = (one: Lab, other: Lab, share: number): Lab => ({
  L: one.L + share * (other.L - one.L),
  a: one.a + share * (other.a - one.a),
  b: one.b + share * (other.b - one.b),
});

function anyShop(random: ReturnType<typeof seeded>): Shop {
  return {
    growth: {
      offsetNm: random.uniform(1, 5),
      slopeNmPerV: random.uniform(1.8, 2.6),
      curvatureNmPerV2: random.uniform() < 0.5 ? 0 : random.uniform(-0.003, -0.001),
    },
    thicknessSdNm: random.uniform(0.3, 0.9),
    colourSd: random.uniform(0.2, 0.7),
    // Every third shop is not polished.
    matte: random.uniform() < 1 / 3 ? random.uniform(0.01, 0.06) : 0,
  };
}

/** What the shop gets at a voltage, one piece of it. */
function made(shop: Shop, { voltageV, offNm, random }: { voltageV: number; offNm: number; random: ReturnType<typeof seeded> }): Lab {
  const nm = trueThickness(shop.growth, voltageV) + offNm + shop.thicknessSdNm * random.normal();
  const { L, a, b } = mixed(model.labAt(Math.max(0, nm)), grey, shop.matte);
  const read = (value: number) => value + shop.colourSd * random.normal();
  return { L: Math.min(100, Math.max(0, read(L))), a: read(a), b: read(b) };
}

const LADDER_V = [10, 18, 26, 34, 42, 50, 60, 70, 82, 95];

/** One shop: a ladder of ten coupons of which one was prepared wrongly, and lots inside the window that is proposed. */
function runShop(random: ReturnType<typeof seeded>) {
  const shop = anyShop(random);
  const wrongIndex = Math.floor(random.uniform(0, LADDER_V.length));
  const offNm = (random.uniform() < 0.5 ? -1 : 1) * random.uniform(6, 20);
  const coupons = LADDER_V.map((voltageV, index) => ({
    voltageV,
    lab: made(shop, { voltageV, offNm: index === wrongIndex ? offNm : 0, random }),
  }));
  const suspect = suspectCoupon({ coupons, system: 'titanium', regime });
  const kept = coupons.filter((_, index) => index !== suspect?.index);
  const fit = fitFilmGrowth({ coupons: kept, system: 'titanium', regime });
  const { lowestVoltageV, highestVoltageV } = fit.growth;
  const hits = [0.25, 0.5, 0.75].map((share) => {
    const voltageV = lowestVoltageV + share * (highestVoltageV - lowestVoltageV);
    const { intervalNm } = thicknessFromVoltage({ growth: fit.growth, voltageV });
    const nm = trueThickness(shop.growth, voltageV);
    return intervalNm !== null && intervalNm.low <= nm && nm <= intervalNm.high;
  });
  const truth = trueThickness(shop.growth, random.uniform(15, 90));
  const target = mixed(filmColour({ system: 'titanium', thicknessNm: truth }).lab, grey, shop.matte);
  const proposals = matchColour({ target, growth: fit.growth, coupons: kept, toleranceDeltaE: TOLERANCE_DELTA_E });
  const outside = proposals.candidates.filter(
    ({ voltageV }) => voltageV < lowestVoltageV || voltageV > highestVoltageV,
  ).length;
  const { stretches } = voltageWindow({ target, growth: fit.growth, toleranceDeltaE: TOLERANCE_DELTA_E });
  const limits = fit.verdict === 'good' ? stretches.map(windowLimits).filter((one) => one !== null) : [];
  const lots = limits.flatMap(({ lowV, highV }) =>
    Array.from({ length: LOTS }, () =>
      deltaE2000(target, made(shop, { voltageV: random.uniform(lowV, highV), offNm: 0, random })),
    ),
  );
  return {
    ...{ matte: shop.matte > 0, verdict: fit.verdict, outside, proposed: limits.length },
    isWithin: hits.every(Boolean),
    isWithinMiddle: hits[1] === true,
    isRejected: suspect?.index === wrongIndex,
    isMisjudged: suspect !== null && suspect.index !== wrongIndex,
    lots: lots.length,
    lotsOut: lots.filter((deltaE) => deltaE > TOLERANCE_DELTA_E).length,
  };
}

/** Simulated shops, counted. The same seed gives the same figures. */
export function simulateShops({ shops, seed }: { shops: number; seed: number }) {
  const random = seeded(seed);
  const runs = Array.from({ length: shops }, () => runShop(random));
  const good = runs.filter(({ verdict }) => verdict === 'good');
  const share = (counted: readonly (typeof runs)[number][], holds: (run: (typeof runs)[number]) => boolean) =>
    counted.filter(holds).length / counted.length;
  const sum = (figure: (run: (typeof runs)[number]) => number) => runs.reduce((total, run) => total + figure(run), 0);
  return {
    good: good.length / shops,
    within: share(good, ({ isWithin }) => isWithin),
    withinMiddle: share(good, ({ isWithinMiddle }) => isWithinMiddle),
    rejected: share(runs, ({ isRejected }) => isRejected),
    misjudged: share(runs, ({ isMisjudged }) => isMisjudged),
    outsideCoupons: sum(({ outside }) => outside),
    windows: sum(({ proposed }) => proposed),
    lots: sum(({ lots }) => lots),
    lotsOut: sum(({ lotsOut }) => lotsOut) / Math.max(1, sum(({ lots }) => lots)),
  };
}
