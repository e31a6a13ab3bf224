import { checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { checkTrial, type ProcessSetting, type ProcessTrial } from './process-trial.ts';

/** What one band of a strip shows. */
export type WithdrawalBand = Pick<ProcessTrial, 'outcome' | 'lab' | 'thicknessNm'>;

/** A trial and where on the strip it is, mm from the edge that left the bath first. */
export interface WithdrawalTrial extends ProcessTrial {
  fromMm: number;
  toMm: number;
}

/**
 * The trials in a strip that was lifted out of the bath by a fixed distance at fixed intervals: each band
 * stayed in one interval longer than the one before, so one strip is a series over time.
 *
 * `bands` in the order in which they left the bath (the shortest time first), null for a band that cannot be
 * read; `intervalS` and `stepMm` above 0; the setting held throughout.
 * Source: definition; the practice of lifting 1 cm a minute is common practice, no source.
 * Errors: `malformed` for no band, `unknown` for an outcome, `not-finite`, `out-of-range`.
 *
 * @example
 * const strip = withdrawalTrials({
 *   setting: { temperatureC: 50, voltageV: 2.25, massFraction: 0.5 },
 *   intervalS: 60,
 *   stepMm: 10,
 *   bands: [{ outcome: 'none' }, { outcome: 'interference' }, null, { outcome: 'interference' }],
 * });
 * strip.map((trial) => trial.timeS) // [60, 120, 240]
 */
export function withdrawalTrials(input: {
  setting: Omit<ProcessSetting, 'timeS'>;
  intervalS: number;
  stepMm: number;
  bands: readonly (WithdrawalBand | null)[];
}): WithdrawalTrial[] {
  const intervalS = checkNumber('intervalS', input.intervalS, { above: 0, max: 1e5 });
  const stepMm = checkNumber('stepMm', input.stepMm, { above: 0, max: 1e4 });
  if (input.bands.length === 0) {
    throw new CalcError({
      code: 'malformed',
      argument: 'bands',
      given: 'none',
      allowed: 'at least one band',
    });
  }
  return input.bands.flatMap((band, i) =>
    band === null
      ? []
      : {
          ...checkTrial(`bands[${i}]`, { ...input.setting, ...band, timeS: (i + 1) * intervalS }),
          fromMm: i * stepMm,
          toMm: (i + 1) * stepMm,
        },
  );
}
