import { leastSquares } from './least-squares.ts';
import { sumOfSquares } from './summation.ts';

type Residuals = (parameters: readonly number[]) => number[];

export interface Minimum {
  parameters: number[];
  residuals: number[];
  /** Inverse of J'J at the minimum; null when some parameters cannot be told apart there. */
  inverseNormal: number[][] | null;
  iterations: number;
  /** The residuals ended at right angles to every derivative: no small change of the parameters lowers their sum. */
  converged: boolean;
}

interface State {
  parameters: readonly number[];
  residuals: number[];
  cost: number;
}

const START_DAMPING = 1e-3;
/** At this damping a step is far below the last figure of any parameter: nothing lower can be found. */
const MOST_DAMPING = 1e20;
/** Cosine between residuals and a derivative that the noise of numerical derivatives may leave. */
const RIGHT_ANGLE = 1e-5;

/**
 * Least sum of squares of `residuals` near `start`: Marquardt's damped Gauss-Newton step, scaled by the lengths of the
 * derivative columns (Marquardt, J. SIAM 11, 1963, 431; Moré 1978), damping steered by the gain of each step (Nielsen
 * 1999). Where the model is undefined `residuals` may return values that are not finite: the step there is refused and
 * a shorter one tried.
 */
export function levenbergMarquardt(problem: {
  residuals: Residuals;
  start: readonly number[];
  maxIterations: number;
}): Minimum {
  let state = stateAt(problem.residuals, problem.start);
  let derivatives = derivativesAt(problem.residuals, state.parameters);
  let scales = derivatives.map(length);
  let damping = START_DAMPING;
  let iterations = 0;

  while (iterations < problem.maxIterations) {
    const step = shortenUntilLower({ ...problem, state, derivatives, scales, damping });
    if (!step) break;
    iterations++;
    damping = step.damping;
    state = step.state;
    derivatives = derivativesAt(problem.residuals, state.parameters);
    scales = derivatives.map((column, k) => Math.max(length(column), scales[k] ?? 0));
  }
  const { parameters, residuals } = state;
  const inverseNormal = leastSquares(derivatives, residuals)?.inverseNormal() ?? null;
  const converged = derivatives.every((column) => Math.abs(cosine(column, residuals)) < RIGHT_ANGLE);
  return { parameters: [...parameters], residuals, inverseNormal, iterations, converged };
}

const stateAt = (residualsAt: Residuals, parameters: readonly number[]): State => {
  const residuals = residualsAt(parameters);
  return { parameters, residuals, cost: sumOfSquares(residuals) };
};

/** Raises the damping until the step lowers the cost; null when even the smallest step does not. */
function shortenUntilLower(from: {
  residuals: Residuals;
  state: State;
  derivatives: readonly number[][];
  scales: readonly number[];
  damping: number;
}): { state: State; damping: number } | null {
  const { state, derivatives } = from;
  let damping = from.damping;
  for (let growth = 2; damping < MOST_DAMPING; growth *= 2) {
    const change = dampedStep({ ...from, damping });
    const next = stateAt(
      from.residuals,
      state.parameters.map((value, k) => value + (change[k] ?? NaN)),
    );
    if (next.cost < state.cost) {
      const foreseen = state.cost - sumOfSquares(linearised(state.residuals, derivatives, change));
      const gain = (state.cost - next.cost) / foreseen;
      return { state: next, damping: damping * Math.max(1 / 3, 1 - (2 * gain - 1) ** 3) };
    }
    damping *= growth;
  }
  return null;
}

/** Solves (J'J + damping D'D) step = -J'r as a least-squares problem, with D the column scales. */
function dampedStep(from: {
  state: State;
  derivatives: readonly number[][];
  scales: readonly number[];
  damping: number;
}): number[] {
  const { state, derivatives, scales, damping } = from;
  const columns = derivatives.map((column, k) => [
    ...column,
    ...scales.map((scale, j) => (j === k ? Math.sqrt(damping) * (scale || 1) : 0)),
  ]);
  const right = [...state.residuals.map((value) => -value), ...scales.map(() => 0)];
  return leastSquares(columns, right)?.coefficients ?? scales.map(() => NaN);
}

const linearised = (
  residuals: readonly number[],
  derivatives: readonly number[][],
  change: readonly number[],
) =>
  residuals.map((value, i) =>
    derivatives.reduce((total, column, k) => total + (column[i] ?? NaN) * (change[k] ?? NaN), value),
  );

/** Fifth root of the machine epsilon: best relative step of a five-point difference. */
const RELATIVE_STEP = Number.EPSILON ** 0.2;

/** Five-point central differences, one column a parameter; accurate to about 13 figures of a smooth model. */
function derivativesAt(residualsAt: Residuals, parameters: readonly number[]): number[][] {
  return parameters.map((value, k) => {
    const h = RELATIVE_STEP * (Math.abs(value) || 1);
    const shifted = (share: number) =>
      residualsAt(parameters.map((other, j) => (j === k ? value + share * h : other)));
    const [before2, before1, after1, after2] = [shifted(-2), shifted(-1), shifted(1), shifted(2)];
    return after1.map(
      (after, i) =>
        (8 * (after - (before1[i] ?? NaN)) - ((after2[i] ?? NaN) - (before2[i] ?? NaN))) / (12 * h),
    );
  });
}

const length = (values: readonly number[]): number => Math.sqrt(sumOfSquares(values));

const cosine = (a: readonly number[], b: readonly number[]): number => {
  const product = a.reduce((total, value, i) => total + value * (b[i] ?? NaN), 0);
  return product === 0 ? 0 : product / (length(a) * length(b));
};
