export interface LeastSquares {
  coefficients: number[];
  /** Inverse of the normal matrix: the covariance of the coefficients in units of the residual variance. */
  inverseNormal: () => number[][];
}

/**
 * The least-squares solution of `columns` times coefficients = `right`.
 *
 * Modified Gram-Schmidt with the right-hand side taken along as one more column, which is as accurate as Householder
 * reflections (Björck, BIT 7, 1967, 1) and loses no figures to normal equations. Columns are scaled to unit length
 * first, so that powers of x of very different size do no harm. Returns null when the columns are dependent to
 * working accuracy.
 */
export function leastSquares(
  columns: readonly (readonly number[])[],
  right: readonly number[],
): LeastSquares | null {
  const scales = columns.map(norm);
  if (scales.some((scale) => scale === 0 || !Number.isFinite(scale))) return null;
  const factored = orthogonalise(
    columns.map((column, k) => column.map((value) => value / at(scales, k))),
    right,
  );
  if (!factored) return null;
  const { upper, projections } = factored;
  const solve = (values: readonly number[]): number[] =>
    backSubstitute(upper, values).map((value, k) => value / at(scales, k));
  return { coefficients: solve(projections), inverseNormal: () => inverseOfNormal(columns.length, solve) };
}

/** (R'R)^-1 = R^-1 R^-T, from the columns of R^-1. */
function inverseOfNormal(size: number, solve: (values: readonly number[]) => number[]): number[][] {
  const places = Array.from({ length: size }, (_, k) => k);
  const inverse = places.map((k) => solve(places.map((j) => (j === k ? 1 : 0))));
  return places.map((i) =>
    places.map((j) => inverse.reduce((total, column) => total + at(column, i) * at(column, j), 0)),
  );
}

/** A column that keeps less than this share of its length after projection is taken as dependent on the others. */
const DEPENDENT = 1e-14;

function orthogonalise(
  columns: readonly number[][],
  right: readonly number[],
): { upper: number[][]; projections: number[] } | null {
  const upper: number[][] = [];
  const projections: number[] = [];
  let pending = [...columns];
  let residual = right;
  while (pending[0]) {
    const [column, ...later] = pending as [number[], ...number[][]];
    const length = norm(column);
    if (!(length > DEPENDENT)) return null;
    const direction = column.map((value) => value / length);
    const shares = later.map((other) => dot(direction, other));
    const share = dot(direction, residual);
    upper.push([...columns.slice(later.length + 1).map(() => 0), length, ...shares]);
    projections.push(share);
    pending = later.map((other, j) => subtract(other, direction, at(shares, j)));
    residual = subtract(residual, direction, share);
  }
  return { upper, projections };
}

function backSubstitute(upper: readonly (readonly number[])[], right: readonly number[]): number[] {
  const solution = right.map(() => 0);
  for (let k = upper.length - 1; k >= 0; k--) {
    const row = upper[k] ?? [];
    let rest = at(right, k);
    for (let j = k + 1; j < row.length; j++) rest -= at(row, j) * at(solution, j);
    solution[k] = rest / at(row, k);
  }
  return solution;
}

/** The element the caller knows to exist; NaN would surface at once in any result. */
const at = (values: readonly number[], index: number): number => values[index] ?? NaN;

const dot = (a: readonly number[], b: readonly number[]): number => {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += at(a, i) * at(b, i);
  return total;
};

const norm = (values: readonly number[]): number => Math.sqrt(dot(values, values));

const subtract = (from: readonly number[], direction: readonly number[], share: number): number[] =>
  from.map((value, i) => value - share * at(direction, i));
