import { checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { checkTemperature } from '../inputs.ts';

/** What was taken from the bath, and how: pipetted in mL or weighed in g (better for strong caustic, which drains badly). */
export type TitrationSample = {
  /** The bath sample when its volume was taken; for a weighed sample, the temperature to state g/L at. */
  temperatureC: number;
  /** When the sample was made up to a larger volume and only part of that was titrated. */
  dilution?: { madeUpToMl: number; takenMl: number };
} & ({ volumeMl: number } | { massG: number });

/** Standard uncertainties of what was measured; each has a default of common practice. */
export interface TitrationUncertainty {
  /** Of the titrant's strength, as a share of it. Default 0.001. */
  titrantRelative?: number;
  /** Of each burette reading, mL. Default 0.03. */
  readingMl?: number;
  /** Of the bath in the flask, as a share of it. Default 0.005. */
  sampleRelative?: number;
}

/** Common practice, no source: a checked titrant, a class B burette, one pipette and one flask. */
const defaultUncertainty = { titrantRelative: 0.001, readingMl: 0.03, sampleRelative: 0.005 };

/** Bath in the flask: mL or g, with its temperature. */
export interface FlaskShare {
  basis: 'volume' | 'mass';
  amount: number;
  temperatureC: number;
}

export function bathInFlask(sample: TitrationSample): FlaskShare {
  const temperatureC = checkTemperature('sample.temperatureC', sample.temperatureC);
  let share = 1;
  if (sample.dilution) {
    const madeUpTo = checkNumber('sample.dilution.madeUpToMl', sample.dilution.madeUpToMl, { above: 0 });
    const taken = checkNumber('sample.dilution.takenMl', sample.dilution.takenMl, {
      above: 0,
      max: madeUpTo,
    });
    share = taken / madeUpTo;
  }
  if ('volumeMl' in sample) {
    const volumeMl = checkNumber('sample.volumeMl', sample.volumeMl, { above: 0, max: 10_000 });
    if (sample.dilution && sample.dilution.madeUpToMl < volumeMl) {
      throw new CalcError({
        code: 'impossible',
        argument: 'sample.dilution.madeUpToMl',
        given: sample.dilution.madeUpToMl,
        allowed: `at least the ${volumeMl} mL that were made up`,
      });
    }
    return { basis: 'volume', amount: volumeMl * share, temperatureC };
  }
  const massG = checkNumber('sample.massG', sample.massG, { above: 0, max: 10_000 });
  return { basis: 'mass', amount: massG * share, temperatureC };
}

export function completeUncertainty(input: TitrationUncertainty = {}): Required<TitrationUncertainty> {
  const filled = { ...defaultUncertainty, ...input };
  return {
    titrantRelative: checkNumber('uncertainty.titrantRelative', filled.titrantRelative, { min: 0, below: 1 }),
    readingMl: checkNumber('uncertainty.readingMl', filled.readingMl, { min: 0 }),
    sampleRelative: checkNumber('uncertainty.sampleRelative', filled.sampleRelative, { min: 0, below: 1 }),
  };
}
