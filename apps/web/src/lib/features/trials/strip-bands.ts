import { withdrawalTrials, type Lab } from '@huelot/calc';
import type { CouponOutcome, CouponSeries } from '@huelot/contracts';
import { nextTrial, type SeriesValues, type TrialValues } from '$lib/features/coupons/coupon-form.ts';
import type { LinearRgb } from './strip-photo.ts';

/** One band as somebody pointed at it, in the order in which the bands left the bath. */
export interface Band {
  place: { x: number; y: number } | null;
  light: LinearRgb | null;
  outcome: CouponOutcome;
}

/** Coupons of one run in a draft that nobody has looked at, in the order of its bands. */
export function openRuns(
  trials: CouponSeries['trials'],
): { id: number; number: string; indexes: number[] }[] {
  const runs = new Map<number, { id: number; number: string; indexes: number[] }>();
  trials.forEach(({ run, outcome }, index) => {
    if (run === null || outcome !== null) return;
    const known = runs.get(run.id) ?? { id: run.id, number: run.number, indexes: [] };
    runs.set(run.id, { ...known, indexes: [...known.indexes, index] });
  });
  return [...runs.values()];
}

/** What a band shows, as a coupon says it: a photo beside a reference, otherwise in words. */
const shown = (outcome: CouponOutcome, lab: Lab | null): Pick<TrialValues, 'outcome' | 'grade' | 'lab'> => ({
  outcome,
  grade: lab === null ? 'word' : 'photo',
  lab: lab === null ? { L: null, a: null, b: null } : { ...lab },
});

/** Writes the bands over the coupons of a run that wait to be looked at. */
export function lookedAt(
  values: SeriesValues,
  {
    indexes,
    bands,
  }: { indexes: readonly number[]; bands: readonly { outcome: CouponOutcome; lab: Lab | null }[] },
): SeriesValues {
  const trials = values.trials.map((trial, index) => {
    const band = bands[indexes.indexOf(index)];
    return indexes.includes(index) && band ? { ...trial, ...shown(band.outcome, band.lab) } : trial;
  });
  return { ...values, trials };
}

/** Adds a strip that was not run from a plan: one coupon a band, each an interval longer than the one before. */
export function withStrip(
  values: SeriesValues,
  strip: {
    setting: TrialValues;
    intervalS: number;
    stepMm: number;
    bands: readonly { outcome: CouponOutcome; lab: Lab | null }[];
  },
): SeriesValues {
  const { setting, intervalS, stepMm, bands } = strip;
  const trials = withdrawalTrials({
    setting: { temperatureC: setting.temperatureC ?? 0, massFraction: 0.5 },
    intervalS,
    stepMm,
    bands: bands.map(({ outcome, lab }) => ({ outcome, ...(lab === null ? {} : { lab }) })),
  });
  return {
    ...values,
    trials: [
      ...values.trials,
      ...trials.map(({ timeS, fromMm, toMm }, index): TrialValues => {
        const band = bands[index] ?? { outcome: 'none' as const, lab: null };
        const like = nextTrial(setting, {
          madeOn: setting.madeOn,
          madeBy: setting.madeBy,
          outcome: band.outcome,
        });
        const mark = `${setting.mark || 'strip'} ${fromMm}-${toMm} mm`.slice(0, 40);
        return { ...like, ...shown(band.outcome, band.lab), mark, timeS };
      }),
    ],
  };
}
