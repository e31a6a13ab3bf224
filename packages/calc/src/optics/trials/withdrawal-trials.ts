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
 * stayed in one interval longer than the one before, so one strip is a series over time. Where lifts were not as even as
 * planned, `timesS` says how long each band was in (see {@link liftedBandTimes}).
 *
 * `bands` in the order in which they left the bath (the shortest time first), null for a band that cannot be
 * read; `intervalS` or each of `timesS`, and `stepMm`, above 0; the setting held throughout.
 * Source: definition; the practice of lifting 1 cm a minute is common practice, no source.
 * Errors: `malformed` for no band, or other times than bands, `unknown` for an outcome, `not-finite`, `out-of-range`.
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
export function withdrawalTrials(
  input: {
    setting: Omit<ProcessSetting, 'timeS'>;
    stepMm: number;
    bands: readonly (WithdrawalBand | null)[];
  } & ({ intervalS: number } | { timesS: readonly number[] }),
): WithdrawalTrial[] {
  const stepMm = checkNumber('stepMm', input.stepMm, { above: 0, max: 1e4 });
  if (input.bands.length === 0) {
    throw new CalcError({
      code: 'malformed',
      argument: 'bands',
      given: 'none',
      allowed: 'at least one band',
    });
  }
  const timesS = timesOf(input);
  return input.bands.flatMap((band, i) =>
    band === null
      ? []
      : {
          ...checkTrial(`bands[${i}]`, { ...input.setting, ...band, timeS: timesS[i] ?? NaN }),
          fromMm: i * stepMm,
          toMm: (i + 1) * stepMm,
        },
  );
}

function timesOf(
  input: { bands: readonly unknown[] } & ({ intervalS: number } | { timesS: readonly number[] }),
): number[] {
  if ('intervalS' in input) {
    const intervalS = checkNumber('intervalS', input.intervalS, { above: 0, max: 1e5 });
    return input.bands.map((_, i) => (i + 1) * intervalS);
  }
  if (input.timesS.length !== input.bands.length) {
    throw new CalcError({
      code: 'malformed',
      argument: 'timesS',
      given: `${input.timesS.length} times`,
      allowed: `${input.bands.length}, one for each band`,
    });
  }
  return input.timesS.map((timeS, i) => checkNumber(`timesS[${i}]`, timeS, { above: 0, max: 1e6 }));
}
