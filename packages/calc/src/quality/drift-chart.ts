import { checkNumber, checkWhole } from '../check.ts';
import { CalcError } from '../errors.ts';
import { goldenSection } from '../numeric/golden-section.ts';
import { leastSquares } from '../numeric/least-squares.ts';
import { type Innovation, localLevel } from '../numeric/local-level.ts';
import { checkRestarts } from './chart-input.ts';

/** One result of a bath that is drawn down and topped up. */
export interface DriftSample {
  /** On any clock the caller likes: days since the fill, or since an epoch. Never before the sample ahead of it. */
  day: number;
  value: number;
  /** Area that went through the bath since the sample before, in square metres; 0 where it is not counted. */
  workM2: number;
}

export interface ExpectedResult {
  /** What drift, work and the results before lead to expect. */
  expected: number;
  /** Standard deviation of a result about that, the scatter of the analysis included. */
  standardDeviation: number;
  /** (value - expected) / standardDeviation: what the rules of a chart are asked about, with centre 0 and sigma 1. */
  residual: number;
}

export interface DriftChart {
  /** Null for the first sample of each run, of which nothing is expected. */
  points: (ExpectedResult | null)[];
  /** Change in a day without work, in the unit of the values. */
  driftPerDay: number;
  /** Change by a square metre of work; null when no work went through the bath in the baseline. */
  driftPerM2: number | null;
  /** Variance of a result about the level of the bath. */
  noiseVariance: number;
  /** Variance that the level gains in a day on its own, 0 for a bath that keeps to its drift. */
  wanderVariancePerDay: number;
  /** Root mean square of the standard deviations in the baseline: how far a result usually lies from what is expected. */
  sigma: number;
}

/**
 * Chart of what is left of a series when its own drift is taken out: for baths that are drawn down by time and work and
 * topped up on purpose, whose results break the rules of a stationary chart although nothing is wrong. The level drifts
 * with time and with the area that went through, and wanders a little; each result is compared with what those before
 * it in the same run lead to expect. Chart the residuals with {@link ruleViolations}, centre 0 and sigma 1.
 *
 * `restarts` are places (from 0) at which a new run begins: after an addition, in a new fill. `baseline` is the first
 * and the last place of the stretch that the drift and the scatter are found from; all of them unless given. For results
 * after it the uncertainty of the drift itself widens what is expected.
 * Source: residuals of a time series model, Alwan and Roberts, J. Business & Economic Statistics 6, 1988, 87 (from
 * memory); the local level model by maximum likelihood, Durbin and Koopman, Time Series Analysis by State Space Methods
 * (2001), chapter 2 (values of the Nile: seen in a reference library). Valid for a baseline with two results more in its
 * runs than effects to find, plus one for each run.
 * Errors: `malformed`, `not-finite`, `out-of-range` (also for a day before the one ahead of it); `impossible` when the
 * baseline is too short, or scatters not at all.
 *
 * @example
 * driftChart({
 *   samples: [50, 49.8, 49.9, 49.5, 49.4, 49.4, 49.1, 47.9].map((value, week) => ({ day: 7 * week, value, workM2: 0 })),
 *   baseline: { from: 0, to: 6 },
 * })
 * // { driftPerDay: -0.0204082, driftPerM2: null, sigma: 0.126867 }
 */
export function driftChart(input: {
  samples: readonly DriftSample[];
  restarts?: readonly number[];
  baseline?: { from: number; to: number };
}): DriftChart {
  const samples = checkSamples(input.samples);
  const restarts = checkRestarts(input.restarts, samples.length);
  const last = samples.length - 1;
  const from = checkWhole('baseline.from', input.baseline?.from ?? 0, { min: 0, max: last });
  const to = checkWhole('baseline.to', input.baseline?.to ?? last, { min: from, max: last });

  const values = samples.map(({ value }) => value);
  const times = samples.map(({ day }) => day);
  const work = runningTotals(samples.map(({ workM2 }) => workM2));
  // The first sample of the baseline, and of a run, only says where the level starts.
  const worked = samples.some(
    ({ workM2 }, place) => place > from && place <= to && !restarts.has(place) && workM2 > 0,
  );
  const drivers = worked ? [times, work] : [times];
  const innovations = (wander: number) => localLevel({ values, times, drivers, restarts, wander });
  const inBaseline = (all: readonly (Innovation | null)[]) =>
    all.slice(from, to + 1).filter((one) => one !== null);

  const fitAt = (wander: number) => fitDrivers(inBaseline(innovations(wander)));
  const wander = likeliestWander({
    typicalDays: ((times[to] ?? 0) - (times[from] ?? 0)) / Math.max(1, to - from),
    fitAt,
  });
  const { effects, covariance, noiseVariance } = fitAt(wander);
  const all = innovations(wander);
  const points = all.map((innovation, place): ExpectedResult | null => {
    if (innovation === null) return null;
    const left = innovation.value - product(innovation.drivers, effects);
    const doubt = place > to ? quadratic(innovation.drivers, covariance) : 0;
    const standardDeviation = Math.sqrt(noiseVariance * (innovation.variance + doubt));
    return { expected: (values[place] ?? NaN) - left, standardDeviation, residual: left / standardDeviation };
  });
  const spread = points.slice(from, to + 1).filter((point) => point !== null);
  return {
    points,
    driftPerDay: effects[0] ?? NaN,
    driftPerM2: effects[1] ?? null,
    noiseVariance,
    wanderVariancePerDay: wander * noiseVariance,
    sigma: Math.sqrt(
      spread.reduce((sum, { standardDeviation }) => sum + standardDeviation ** 2, 0) / spread.length,
    ),
  };
}

function checkSamples(input: readonly DriftSample[]): readonly DriftSample[] {
  if (!Array.isArray(input) || input.length < 2) {
    throw new CalcError({
      code: 'malformed',
      argument: 'samples',
      given: Array.isArray(input) ? `a list of ${input.length}` : input,
      allowed: 'a list of at least 2 samples',
    });
  }
  let previous = -Infinity;
  return (input as readonly DriftSample[]).map(({ day, value, workM2 }, index) => {
    checkNumber(`samples[${index}].day`, day, Number.isFinite(previous) ? { min: previous } : {});
    previous = day;
    return {
      day,
      value: checkNumber(`samples[${index}].value`, value),
      workM2: checkNumber(`samples[${index}].workM2`, workM2, { min: 0 }),
    };
  });
}

interface DriverFit {
  effects: number[];
  /** Of the effects, in units of the variance of the noise. */
  covariance: number[][];
  noiseVariance: number;
  logLikelihood: number;
}

/** The effects of the drivers by generalised least squares, the innovations being independent of each other. */
function fitDrivers(innovations: readonly Innovation[]): DriverFit {
  const weights = innovations.map(({ variance }) => 1 / Math.sqrt(variance));
  const weighted = (one: (innovation: Innovation) => number) =>
    innovations.map((innovation, i) => one(innovation) * (weights[i] ?? NaN));
  const columns = (innovations[0]?.drivers ?? []).map((_, k) => weighted(({ drivers }) => drivers[k] ?? NaN));
  const right = weighted(({ value }) => value);
  const count = innovations.length;
  const solved = count >= columns.length + 2 ? leastSquares(columns, right) : null;
  if (solved === null)
    throw tooLittle(
      `${count} results that follow another`,
      'enough results in one run to tell drift from scatter',
    );
  const { coefficients: effects } = solved;
  const squares = right.reduce(
    (sum, value, i) =>
      sum +
      (value - columns.reduce((part, column, k) => part + (column[i] ?? NaN) * (effects[k] ?? NaN), 0)) ** 2,
    0,
  );
  if (!(squares > 1e-20 * right.reduce((sum, value) => sum + value ** 2, 0)))
    throw tooLittle('results without any scatter', 'results that differ from a straight line');
  const logVariances = innovations.reduce((sum, { variance }) => sum + Math.log(variance), 0);
  return {
    effects,
    covariance: solved.inverseNormal(),
    noiseVariance: squares / (count - columns.length),
    logLikelihood: -(count * Math.log((2 * Math.PI * squares) / count) + logVariances + count) / 2,
  };
}

const tooLittle = (given: string, allowed: string) =>
  new CalcError({ code: 'impossible', argument: 'baseline', given, allowed });

/** Powers of ten between which the wander of one interval is looked for, in units of the variance of the noise. */
const wanderPowers = { low: -4, high: 3, step: 0.25 };

/** The wander per day that makes the baseline likeliest; 0 when none is as likely as any. */
function likeliestWander({
  typicalDays,
  fitAt,
}: {
  typicalDays: number;
  fitAt: (wander: number) => DriverFit;
}): number {
  const wanderOf = (power: number) => 10 ** power / (typicalDays || 1);
  const cost = (power: number) => -fitAt(wanderOf(power)).logLikelihood;
  const { low, high, step } = wanderPowers;
  let best = low;
  for (let power = low; power <= high; power += step) if (cost(power) < cost(best)) best = power;
  const power = goldenSection({ f: cost, low: best - step, high: best + step, tolerance: 1e-4 });
  const none = fitAt(0).logLikelihood;
  return none >= fitAt(wanderOf(power)).logLikelihood ? 0 : wanderOf(power);
}

const runningTotals = (values: readonly number[]): number[] => {
  let total = 0;
  return values.map((value) => (total += value));
};

const product = (a: readonly number[], b: readonly number[]): number =>
  a.reduce((sum, value, i) => sum + value * (b[i] ?? NaN), 0);

const quadratic = (vector: readonly number[], matrix: readonly (readonly number[])[]): number =>
  product(
    vector,
    matrix.map((row) => product(row, vector)),
  );
