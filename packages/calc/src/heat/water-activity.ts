import { checkNumber } from '../check.ts';
import { checkFraction, checkTemperature } from '../bath/inputs.ts';
import { molarMass } from '../bath/data/molar-masses.ts';
import { type Caustic, checkCaustic } from '../bath/solutes.ts';
import { vapourPressureModel, waterActivityModel, waterPressureModel } from './data/water-activity.ts';

/** Strongest caustic the formula is let near: it is meaningless for a melt. */
const strongest = 0.7;

/**
 * Water activity over caustic: its vapour pressure as a share of pure water's. 0.18 over 50 wt% KOH at 60 °C,
 * which is why such a bath hardly evaporates.
 *
 * Valid for massFraction 0 to 0.7 and temperatureC -20 to 200; flagged past 18 mol/kg KOH (50 wt%) or 25 mol/kg
 * NaOH (50 wt%).
 * Source: Balej 1985.
 * Errors: `unknown` for anything but KOH and NaOH, `out-of-range` or `not-finite`.
 *
 * @example
 * waterActivity({ solute: 'KOH', massFraction: 0.5, temperatureC: 60 }) // { waterActivity: 0.175807, flags: [] }
 */
export function waterActivity(input: { solute: Caustic; massFraction: number; temperatureC: number }): {
  waterActivity: number;
  flags: string[];
} {
  const solute = checkCaustic(input.solute);
  const massFraction = checkNumber('massFraction', checkFraction('massFraction', input.massFraction), {
    max: strongest,
  });
  const temperatureC = checkTemperature('temperatureC', input.temperatureC);
  const { maxMolality } = waterActivityModel[solute];
  // 50 wt% NaOH, 25.002 mol/kg, is meant to be inside.
  const outside = molality(solute, massFraction) > maxMolality + 0.01;
  return {
    waterActivity: causticWaterActivity({ solute, massFraction, temperatureC }),
    flags: outside
      ? [`water activity of ${solute} extrapolated: its source ends at ${maxMolality} mol/kg`]
      : [],
  };
}

const molality = (solute: Caustic, massFraction: number): number =>
  (1000 * massFraction) / (molarMass[solute] * (1 - massFraction));

type Cubic = readonly [number, number, number];

/** k1 m + k2 m^2 + k3 m^3 */
const cubic = ([first, second, third]: Cubic, m: number): number => m * (first + m * (second + m * third));

interface CheckedCaustic {
  solute: Caustic;
  massFraction: number;
  temperatureC: number;
}

function causticWaterActivity({ solute, massFraction, temperatureC }: CheckedCaustic): number {
  const { k, h } = waterActivityModel[solute];
  const m = molality(solute, massFraction);
  return 10 ** (cubic(k, m) + cubic(h, m) / (temperatureC + 273.15));
}

/** Vapour pressure over caustic, kPa, for inputs that are already checked; of pure water at strength zero. */
export function vapourPressureKPa({ solute, massFraction, temperatureC }: CheckedCaustic): number {
  const pure = waterPressureModel;
  const T = temperatureC + 273.15;
  const pureLog10Bar = pure.a + pure.b / T + pure.c * Math.log10(T) + pure.d * T;
  const { a, b } = vapourPressureModel[solute];
  const m = molality(solute, massFraction);
  return 100 * 10 ** (cubic(a, m) + (1 + cubic(b, m)) * pureLog10Bar);
}
