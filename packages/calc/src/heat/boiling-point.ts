import { checkNumber } from '../check.ts';
import { bisect } from '../numeric/root.ts';
import type { Caustic } from '../bath/solutes.ts';
import { sodiumHydroxideBoiling } from './data/water-activity.ts';
import { vapourPressureKPa, waterActivity } from './water-activity.ts';

/**
 * Boiling point of a caustic bath. `temperatureC` is the one to plan with; `modelC` is what the formula gives on
 * its own, which is 7 K above the producer's figure for 50 wt% NaOH, so that from 40 wt% NaOH on the two differ
 * and a flag says so.
 *
 * Valid for massFraction 0 to 0.6 and pressureKPa 50 to 110 (default 101.325); flagged as {@link waterActivity}.
 * Source: Balej 1985, vapour pressure = outside pressure; producer's data sheet for 50 wt% NaOH.
 * Errors: `unknown` for anything but KOH and NaOH, `out-of-range` or `not-finite`.
 *
 * @example
 * boilingPoint({ solute: 'KOH', massFraction: 0.5 }) // { temperatureC: 144.435, flags: [] }
 */
export function boilingPoint(input: { solute: Caustic; massFraction: number; pressureKPa?: number }): {
  temperatureC: number;
  modelC: number;
  flags: string[];
} {
  const massFraction = checkNumber('massFraction', input.massFraction, { min: 0, max: 0.6 });
  const pressureKPa = checkNumber('pressureKPa', input.pressureKPa ?? 101.325, { min: 50, max: 110 });
  const { solute } = input;
  const { flags } = waterActivity({ solute, massFraction, temperatureC: 100 });
  const modelC = modelBoilingC({ solute, massFraction, pressureKPa });
  const { fromMassFraction, atMassFraction, publishedC } = sodiumHydroxideBoiling;
  if (solute === 'KOH' || massFraction <= fromMassFraction) return { temperatureC: modelC, modelC, flags };
  const excess = modelBoilingC({ solute, massFraction: atMassFraction, pressureKPa: 101.325 }) - publishedC;
  const share = (massFraction - fromMassFraction) / (atMassFraction - fromMassFraction);
  return {
    temperatureC: modelC - excess * share,
    modelC,
    flags: [...flags, 'boiling point of strong NaOH brought down to the figure its producer states'],
  };
}

const modelBoilingC = (input: { solute: Caustic; massFraction: number; pressureKPa: number }): number =>
  bisect({
    f: (temperatureC) => vapourPressureKPa({ ...input, temperatureC }) - input.pressureKPa,
    low: 50,
    high: 250,
  });
