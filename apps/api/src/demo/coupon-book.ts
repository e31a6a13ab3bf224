import { filmColour, type Lab } from '@huelot/calc';
import type { CouponTrial, NewCouponSeries, TrialFactor } from '@huelot/contracts';
import { seededRandom, type Random } from './chance.ts';

/*
 * Coupons of the invented shop. Outcomes in caustic follow common practice (no source): nothing at about 30 °C, interference
 * colours near 50 °C and 2 to 2.5 V, black near 90 °C, in about 50 wt% KOH. Colours in caustic are made up; those in salt
 * are the film colours of an invented growth. Nobody should colour anything by them.
 */

type Setting = Pick<CouponTrial, 'temperatureC' | 'timeS' | 'strength'> & { voltageV: number };
type Result = Pick<CouponTrial, 'outcome'> & { lab: Lab | null };
/** A setting with what came out of it. */
type Tried = Result & Partial<Pick<CouponTrial, TrialFactor>> & Omit<Setting, 'voltageV'>;
interface Sketch extends Omit<NewCouponSeries, 'materialId' | 'trials' | 'photos' | 'notes' | 'changeNote'> {
  material: string;
  /** What the coupons are marked with. */
  letter: string;
  tried: readonly Tried[];
  /** The colours are those that were read: nothing scatters on top. */
  asRead?: true;
}

const inEach = <S extends Omit<Setting, 'voltageV'>>(settings: readonly S[], found: (setting: S) => Result) =>
  settings.map((setting): Tried => ({ ...setting, ...found(setting) }));

const tenth = (value: number) => Number(value.toFixed(1));
/** A colour as an instrument reads it on coupons that were meant to be alike. */
const measured = ({ L, a, b }: Lab, chance: Random): Lab => ({
  L: tenth(Math.max(0, L + chance.near(0, 0.7))),
  a: tenth(a + chance.near(0, 0.7)),
  b: tenth(b + chance.near(0, 0.7)),
});
const every = (options: { [K in keyof Setting]: readonly number[] }): Setting[] =>
  options.temperatureC.flatMap((temperatureC) =>
    options.voltageV.flatMap((voltageV) =>
      options.timeS.flatMap((timeS) =>
        options.strength.map((strength) => ({ temperatureC, voltageV, timeS, strength })),
      ),
    ),
  );

const peacock = every({
  temperatureC: [50, 54],
  voltageV: [2.1, 2.3],
  timeS: [470],
  strength: [0.46, 0.48, 0.5, 0.52],
});
const longer = every({ temperatureC: [52], voltageV: [2.2], timeS: [360, 600], strength: [0.48, 0.5] });
const nothing = every({ temperatureC: [30], voltageV: [2, 2.5], timeS: [300, 600], strength: [0.5] });
const black = every({
  temperatureC: [86, 90],
  voltageV: [2.4],
  timeS: [1190],
  strength: [0.46, 0.48, 0.5, 0.52],
});

function inCaustic({ temperatureC, voltageV, timeS, strength }: Setting): Result {
  if (temperatureC < 40) return { outcome: 'none', lab: null };
  const weaker = 0.5 - strength;
  if (temperatureC > 75)
    return {
      outcome: 'dark',
      lab: { L: 21 + 70 * weaker - 0.2 * (temperatureC - 88), a: 0.6, b: -1.2 + 20 * weaker },
    };
  const warmer = temperatureC - 52;
  const longer = Math.log2(timeS / 470);
  return {
    outcome: 'interference',
    lab: {
      L: 38 - 40 * weaker + 0.3 * warmer + 2 * longer,
      a: 16 + 110 * weaker - 0.9 * warmer - 12 * (voltageV - 2.2) - 4 * longer,
      b: -26 + 90 * weaker - 0.8 * warmer - 10 * (voltageV - 2.2) - 5 * longer,
    },
  };
}

const steel: Sketch = {
  code: 'ST-1075-KOH',
  name: '1075 in 50 % caustic',
  material: 'Carbon steel 1075',
  contents: 'hot-caustic',
  component: 'KOH',
  unit: 'massFraction',
  referenceTemperatureC: null,
  preparation: 'Ground to 600, degreased, alkaline clean, rinsed. Steel counter electrode, 80 mm away.',
  letter: 'S',
  tried: inEach([...nothing, ...peacock, ...longer], inCaustic),
};

const growthNmPerV = { titanium: 1.8, niobium: 2.2 };
/** The weaker the salt, the more of the voltage is lost in it. */
const inSalt =
  (system: 'titanium' | 'niobium') =>
  ({ voltageV, strength }: Setting): Result => {
    const thicknessNm = growthNmPerV[system] * (voltageV - 1.5 * (30 / strength - 1));
    const { L, a, b } = filmColour({ system, thicknessNm }).lab;
    return { outcome: 'interference', lab: { L, a, b } };
  };
const inSaltAt = (volts: number, strength: readonly number[]) =>
  every({ temperatureC: [21], voltageV: [volts - 0.5, volts, volts + 0.5], timeS: [80], strength });
const salt = {
  contents: 'mild-salt',
  component: 'Na3PO4',
  unit: 'gramsPerLitre',
  referenceTemperatureC: 20,
} as const;

const layered: Sketch = {
  ...steel,
  code: 'ST-PW-KOH',
  name: 'Pattern-welded in 50 % caustic',
  material: 'Pattern-welded steel 1084 and 15N20',
  letter: 'W',
  tried: inEach([...peacock, ...longer], inCaustic),
};
/** A ladder of voltages for the calibration; the coupon at 45 V was never etched, and took a thicker film. */
const ladder = inEach(
  every({
    ...{ temperatureC: [21], timeS: [80], strength: [30] },
    voltageV: [8, 20, 34, 40, 45, 52, 60, 74, 82],
  }),
  (setting) => inSalt('titanium')(setting.voltageV === 45 ? { ...setting, voltageV: 52.5 } : setting),
);
const titanium: Sketch = {
  ...salt,
  code: 'TI-2-TSP',
  name: 'Grade 2 in phosphate: blue, gold, magenta, and a ladder',
  material: 'Titanium grade 2',
  preparation: 'Ground to 400, acid etch 2 min, rinsed well.',
  letter: 'T',
  tried: [
    ...inEach(
      [...[28, 14, 66].flatMap((volts) => inSaltAt(volts, [26.5, 28, 30, 32])), ...inSaltAt(26, [30])],
      inSalt('titanium'),
    ),
    ...ladder,
  ],
};
/** Three coupons far up, of a pink that films of two orders have: nobody can say yet which. */
const grade5Pink: Sketch = {
  ...salt,
  code: 'TI-5-PINK',
  name: 'Grade 5 in phosphate, pink near 111 V',
  material: 'Titanium grade 5, Ti-6Al-4V',
  preparation: 'Ground to 400, acid etch 2 min, rinsed well.',
  letter: 'P',
  asRead: true,
  tried: [
    { voltageV: 110, lab: { L: 72.3, a: 29.8, b: -0.5 } },
    { voltageV: 111, lab: { L: 71.5, a: 32.2, b: -2.4 } },
    { voltageV: 112, lab: { L: 70.7, a: 34.3, b: -4 } },
  ].map((one) => ({
    ...{ ...one, temperatureC: 21, timeS: 80, strength: 30 },
    outcome: 'interference' as const,
  })),
};
const niobium: Sketch = {
  ...salt,
  code: 'NB-TSP',
  name: 'Niobium in phosphate, green',
  material: 'Niobium, commercial',
  preparation: 'Bright etch, rinsed well.',
  letter: 'N',
  tried: inEach(inSaltAt(88, [26.5, 28, 30, 32]), inSalt('niobium')),
};
const grade5: Sketch = {
  ...salt,
  code: 'TI-5-TSP',
  name: 'Grade 5 in phosphate, first look',
  material: 'Titanium grade 5, Ti-6Al-4V',
  preparation: 'Ground to 400, acid etch 2 min, rinsed well.',
  letter: 'V',
  tried: inEach(inSaltAt(28, [30]), inSalt('titanium')),
};
/** Sealed red, as an instrument read it: dye takes over what the film shows by itself. */
const aluminium: Sketch = {
  code: 'AL-RED',
  name: '6063 anodized and dyed red',
  material: 'Aluminium 6063',
  contents: 'sulfuric-anodize',
  component: 'H2SO4',
  unit: 'gramsPerLitre',
  referenceTemperatureC: 20,
  preparation: 'Etched, desmutted, rinsed well; dyed red 8 min at 55 °C and pH 5.5, sealed hot.',
  letter: 'A',
  tried: inEach(
    [
      ...every({ temperatureC: [20], voltageV: [15, 15.5, 16, 16.5, 17], timeS: [2100], strength: [180] }),
      ...every({ temperatureC: [18.5, 21.5], voltageV: [16], timeS: [2100], strength: [180] }),
    ],
    ({ temperatureC, voltageV }) => ({
      outcome: 'dyed',
      lab: {
        L: 38 - 0.8 * (voltageV - 16),
        a: 52 + 0.6 * (voltageV - 16),
        b: 30 - 0.3 * (temperatureC - 20),
      },
    }),
  ),
};
/** What the dye itself does: no voltage, but a coating that takes it. Too thin takes too little, too cold is spotted. */
const dye: Sketch = {
  code: 'AL-RED-DYE',
  name: '6063 in red dye, coating and temperature',
  material: 'Aluminium 6063',
  contents: 'dye',
  component: 'dye',
  unit: 'gramsPerLitre',
  referenceTemperatureC: 20,
  preparation: 'Etched, desmutted, anodized at 16 V and 20 °C to the coating named, rinsed well; sealed hot.',
  letter: 'D',
  tried: inEach(
    [4, 8, 12, 16].flatMap((coatingThicknessUm) =>
      [35, 50, 55, 60].map((temperatureC) => ({
        ...{ coatingThicknessUm, temperatureC, timeS: 480, strength: 5, pH: 5.5 },
      })),
    ),
    ({ coatingThicknessUm, temperatureC }) => {
      if (coatingThicknessUm < 5) return { outcome: 'none', lab: null };
      const thicker = coatingThicknessUm - 12;
      const warmer = temperatureC - 55;
      return {
        outcome: temperatureC < 40 ? 'spotted' : 'dyed',
        lab: { L: 38 - 0.9 * thicker - 0.1 * warmer, a: 52 + 0.5 * thicker, b: 30 - 0.3 * thicker },
      };
    },
  ),
};

/** A series as it is typed, its coupons marked and made one day after the other. */
export function written(
  { material, letter, tried, asRead = undefined, ...facts }: Sketch,
  extra: { materialIds: Map<string, number>; days: readonly string[]; changeNote: string },
) {
  const chance = seededRandom(facts.code.length);
  const trials = tried.map(({ lab, ...one }, index): CouponTrial => ({
    ...{ coatingThicknessUm: null, voltageV: null, pH: null, currentDensityAPerM2: null },
    ...one,
    mark: `${letter}${index + 1}`,
    protects: null,
    run: null,
    grade: lab === null ? 'word' : 'measured',
    lab: lab === null || asRead ? lab : measured(lab, chance),
    madeOn: extra.days[Math.floor((index * extra.days.length) / tried.length)] ?? '',
    madeBy: 'Lena Frost',
  }));
  return {
    ...facts,
    materialId: extra.materialIds.get(material) ?? 0,
    notes: '',
    changeNote: extra.changeNote,
    trials,
  };
}
export const couponBook = {
  steel,
  steelWithBlack: { ...steel, tried: [...steel.tried, ...inEach(black, inCaustic)] },
  layered,
  titanium,
  grade5Pink,
  niobium,
  aluminium,
  dye,
  grade5,
};
