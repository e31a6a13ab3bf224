import { leastSquares } from '../../numeric/least-squares.ts';
import type { Lab } from '../../colour/colour-types.ts';

/** A trial with a colour, its settings as steps away from the point that the fit is made around. */
export interface NearTrial {
  lab: Lab;
  weight: number;
  /** Share of the target strength above it. */
  strength: number;
  others: readonly number[];
}

export interface FittedColour {
  at: Lab;
  /** Change of colour for the target strength over again. */
  slope: Lab;
  /** Standard errors of both, and the standard deviation of single trials. */
  atError: Lab;
  slopeError: Lab;
  scatter: Lab;
}

const axes = ['L', 'a', 'b'] as const;
const byAxis = (options: (axis: keyof Lab) => number): Lab => ({
  L: options('L'),
  a: options('a'),
  b: options('b'),
});

/** Trials beyond what the fit has unknowns, so that it can say how far it may be off. */
const SPARE = 2;
const SAME = 1e-9;
export const isVaried = (values: readonly number[]): boolean =>
  Math.max(...values) - Math.min(...values) > SAME;

/**
 * Colour as a straight line in strength and in every other setting that was varied, through trials weighted by how near
 * they lie. Null where they are too few or do not tell strength from the rest.
 */
export function fitAround(trials: readonly NearTrial[]): FittedColour | 'few-trials' | 'not-separable' {
  const others = (trials[0]?.others ?? [])
    .map((_, index) => trials.map((trial) => trial.others[index] ?? 0))
    .filter(isVaried);
  const columns = [trials.map(() => 1), trials.map(({ strength }) => strength), ...others];
  const spare = trials.length - columns.length;
  if (spare < SPARE) return 'few-trials';
  const roots = trials.map(({ weight }) => Math.sqrt(weight));
  const weighted = (values: readonly number[]) => values.map((value, index) => value * (roots[index] ?? 0));

  const fits = axes.map((axis) => {
    const right = weighted(trials.map(({ lab }) => lab[axis]));
    const fit = leastSquares(columns.map(weighted), right);
    if (fit === null) return null;
    const squares = right.map((value, index) => {
      const fitted = columns.reduce(
        (sum, column, k) => sum + (column[index] ?? 0) * (fit.coefficients[k] ?? 0),
        0,
      );
      return (value - fitted * (roots[index] ?? 0)) ** 2;
    });
    const deviation = Math.sqrt(squares.reduce((sum, square) => sum + square, 0) / spare);
    const inverse = fit.inverseNormal();
    const error = (k: number) => deviation * Math.sqrt(inverse[k]?.[k] ?? NaN);
    const [at = NaN, slope = NaN] = fit.coefficients;
    return { axis, at, slope, atError: error(0), slopeError: error(1), scatter: deviation };
  });
  const found = fits.filter((fit) => fit !== null);
  if (found.length < axes.length) return 'not-separable';
  const all = (name: 'at' | 'slope' | 'atError' | 'slopeError' | 'scatter') =>
    byAxis((axis) => found.find((fit) => fit.axis === axis)?.[name] ?? NaN);
  return {
    at: all('at'),
    slope: all('slope'),
    atError: all('atError'),
    slopeError: all('slopeError'),
    scatter: all('scatter'),
  };
}
