import { checkName, checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { linearFit } from '../numeric/index.ts';

export interface PolarizationPoint {
  potentialV: number;
  currentA: number;
}

export interface PolarizationResistance {
  polarizationResistanceOhmCm2: number;
  standardErrorOhmCm2: number | null;
  /** The slope before the resistance of the solution is taken off. */
  measuredOhmCm2: number;
  /** Where the fitted line meets zero current. */
  corrosionPotentialV: number;
  /** Points inside the window, in the order given, with what the line leaves of each. */
  used: { potentialV: number; currentA: number; residualV: number }[];
  rmsResidualV: number;
  flags: string[];
}

/**
 * Polarization resistance, the slope dE/di where the current is zero, from a slow scan through the corrosion
 * potential. Only points within `windowV` of the corrosion potential count; the window moves with the fit until it
 * settles. The area is the wetted area: resistance in ohm is multiplied by it.
 *
 * Window 0.002 to 0.05 V, default 0.01 (a wider one is bent: 2.5 % at 0.02 V with slopes of 0.12 V). `regress`
 * says what is fitted on what: potential on current (default, for small current noise) or current on potential;
 * their difference grows with scatter. `solutionResistanceOhmCm2` is taken off; without it a flag says so. Not for
 * film-covered anodes under potential, nor during coupling.
 * Source: ASTM G59; least squares.
 * Errors: `malformed` for fewer than three points in the window, `impossible` for a scan that does not cross zero
 * current, a slope that is not positive or a solution resistance that exceeds it, `out-of-range` or `not-finite`.
 *
 * @example
 * fitPolarizationResistance({
 *   points: [
 *     { potentialV: -0.46, currentA: -8e-6 },
 *     { potentialV: -0.455, currentA: -4e-6 },
 *     { potentialV: -0.45, currentA: 0 },
 *     { potentialV: -0.445, currentA: 4e-6 },
 *     { potentialV: -0.44, currentA: 8e-6 },
 *   ],
 *   areaCm2: 10,
 *   solutionResistanceOhmCm2: 0,
 * })
 * // { polarizationResistanceOhmCm2: 12500, corrosionPotentialV: -0.45, flags: [] }
 */
export function fitPolarizationResistance(input: {
  points: readonly PolarizationPoint[];
  areaCm2: number;
  windowV?: number;
  solutionResistanceOhmCm2?: number;
  regress?: 'potential-on-current' | 'current-on-potential';
}): PolarizationResistance {
  const areaCm2 = checkNumber('areaCm2', input.areaCm2, { above: 0, max: 1e6 });
  const windowV = checkNumber('windowV', input.windowV ?? 0.01, { min: 0.002, max: 0.05 });
  const regress = checkName('regress', input.regress ?? 'potential-on-current', [
    'potential-on-current',
    'current-on-potential',
  ]);
  const points = input.points.map(({ potentialV, currentA }) => ({
    potentialV: checkNumber('points.potentialV', potentialV, { min: -10, max: 10 }),
    currentA: checkNumber('points.currentA', currentA, { min: -1000, max: 1000 }),
  }));
  const line = settledLine({ points, windowV, regress });
  const measuredOhmCm2 = line.slopeOhm * areaCm2;
  const solution = checkNumber('solutionResistanceOhmCm2', input.solutionResistanceOhmCm2 ?? 0, { min: 0 });
  const polarizationResistanceOhmCm2 = measuredOhmCm2 - solution;
  if (!(polarizationResistanceOhmCm2 > 0)) {
    throw new CalcError({
      code: 'impossible',
      argument: measuredOhmCm2 > 0 ? 'solutionResistanceOhmCm2' : 'points',
      given: measuredOhmCm2 > 0 ? solution : `a slope of ${measuredOhmCm2} ohm cm2`,
      allowed: measuredOhmCm2 > 0 ? `less than the measured ${measuredOhmCm2} ohm cm2` : 'a slope above zero',
    });
  }
  const flags: string[] = [];
  if (input.solutionResistanceOhmCm2 === undefined) flags.push('solution resistance not taken off');
  if (windowV > 0.01) flags.push('window beyond 10 mV: the line is bent there');
  const used = line.inside.map((point) => ({
    ...point,
    residualV: point.potentialV - (line.interceptV + line.slopeOhm * point.currentA),
  }));
  return {
    polarizationResistanceOhmCm2,
    standardErrorOhmCm2: line.slopeErrorOhm === null ? null : line.slopeErrorOhm * areaCm2,
    measuredOhmCm2,
    corrosionPotentialV: line.interceptV,
    used,
    rmsResidualV: Math.sqrt(used.reduce((sum, { residualV }) => sum + residualV ** 2, 0) / used.length),
    flags,
  };
}

interface Line {
  /** E = interceptV + slopeOhm I. */
  interceptV: number;
  slopeOhm: number;
  slopeErrorOhm: number | null;
  inside: PolarizationPoint[];
}

interface LineInput {
  points: readonly PolarizationPoint[];
  windowV: number;
  regress: 'potential-on-current' | 'current-on-potential';
}

/** Fits, moves the window onto the new corrosion potential, and fits again until the same points are inside. */
function settledLine(input: LineInput): Line {
  let line = fitAround(input, crossing(input.points));
  for (let round = 0; round < 20; round += 1) {
    const next = fitAround(input, line.interceptV);
    const settled =
      next.inside.length === line.inside.length && next.inside.every((p) => line.inside.includes(p));
    line = next;
    if (settled) break;
  }
  return line;
}

function fitAround({ points, windowV, regress }: LineInput, centreV: number): Line {
  // A hair wider, so that points set at the edge of the window are not lost to rounding.
  const inside = points.filter(({ potentialV }) => Math.abs(potentialV - centreV) <= windowV * (1 + 1e-9));
  if (inside.length < 3) {
    throw new CalcError({
      code: 'malformed',
      argument: 'points',
      given: `${inside.length} points within ${windowV} V of ${centreV.toFixed(4)} V`,
      allowed: 'at least 3 inside the window',
    });
  }
  const potentials = inside.map((point) => point.potentialV);
  const currents = inside.map((point) => point.currentA);
  if (regress === 'potential-on-current') {
    const { coefficients, standardErrors } = linearFit({ x: currents, y: potentials });
    const [interceptV = NaN, slopeOhm = NaN] = coefficients;
    return { interceptV, slopeOhm, slopeErrorOhm: standardErrors?.[1] ?? null, inside };
  }
  const { coefficients, standardErrors } = linearFit({ x: potentials, y: currents });
  const [atZeroV = NaN, siemens = NaN] = coefficients;
  const error = standardErrors?.[1];
  return {
    interceptV: -atZeroV / siemens,
    slopeOhm: 1 / siemens,
    slopeErrorOhm: error === undefined ? null : error / siemens ** 2,
    inside,
  };
}

/** Potential at which neighbours along the potential axis change the sign of the current. */
function crossing(points: readonly PolarizationPoint[]): number {
  const sorted = points.toSorted((a, b) => a.potentialV - b.potentialV);
  for (const [i, high] of sorted.entries()) {
    const low = sorted[i - 1];
    if (high.currentA === 0) return high.potentialV;
    if (low && low.currentA < 0 && high.currentA > 0) {
      const share = -low.currentA / (high.currentA - low.currentA);
      return low.potentialV + share * (high.potentialV - low.potentialV);
    }
  }
  throw new CalcError({
    code: 'impossible',
    argument: 'points',
    given: `${points.length} points without a change from cathodic to anodic current`,
    allowed: 'a scan through the corrosion potential, anodic current positive',
  });
}
