import { checkFinite } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type CompleteLoad, completeLoad } from './check-job.ts';
import { type Figure, figures } from './figure.ts';
import type { LoadJob } from './job.ts';
import { LIMIT_RULES, type LoadLimitKey } from './load-limits.ts';

export interface LoadLimit {
  key: LoadLimitKey;
  label: string;
  /** Pieces this limit alone would allow. */
  pieces: number;
  formula: string;
  inputs: Figure[];
}

export interface LoadPlan {
  /** Every limit that applies, the tightest ones named again in `binding`. */
  limits: LoadLimit[];
  /** What to improve to get more pieces into a load. */
  binding: LoadLimitKey[];
  piecesPerLoad: number;
  loads: number;
  /** Pieces in the last load when the others are full. */
  lastLoad: number;
  /** Pieces of each load when the loads are as even as can be: colour repeats better that way. */
  balanced: number[];
}

/**
 * How many pieces go into one load, which limit says so, and into how many loads a lot falls.
 *
 * Limits: current at the peak density, with the bare area of the rack; hooks; the rack window (gap between pieces, none
 * at its edge) times layers; the load on the rack; rack and pieces on the hoist; wetted area per litre of bath; heat of
 * the current against the cooling; the most pieces ever proved in one load. A limit whose figures are null or left out
 * does not apply. Pieces hang as they are given: the box is not turned to fit more.
 *
 * Units: mm, mm2, kg, A, A/m2, V, kW, L. Source: the usual floor divisions of the trade; common practice, no source.
 * Errors: `not-finite` or `out-of-range` with the path of the figure; `impossible` when not one piece fits, or when no
 * limit at all is known.
 *
 * @example
 * piecesPerLoad(EXAMPLE_JOB)
 * // { piecesPerLoad: 47, binding: ['amps'], loads: 6, lastLoad: 5, balanced: [40, 40, 40, 40, 40, 40] }
 */
export function piecesPerLoad(job: LoadJob): LoadPlan {
  checkFinite('', job);
  const complete = completeLoad(job);
  return explainPlan(complete, countLoads(complete));
}

/** The numbers of a plan, without the words. */
export interface LoadCount {
  pieces: Partial<Record<LoadLimitKey, number>>;
  piecesPerLoad: number;
  loads: number;
}

export function countLoads(job: CompleteLoad): LoadCount {
  const pieces: LoadCount['pieces'] = {};
  for (const rule of LIMIT_RULES) {
    const count = rule.pieces(job);
    if (count !== null) pieces[rule.key] = count;
  }
  const piecesPerLoad = Math.min(...Object.values(pieces));
  if (piecesPerLoad < 1 || piecesPerLoad === Infinity) throw noLoad(job, pieces);
  return { pieces, piecesPerLoad, loads: Math.ceil(job.quantity / piecesPerLoad) };
}

export function explainPlan(job: CompleteLoad, { pieces, piecesPerLoad, loads }: LoadCount): LoadPlan {
  const limits = LIMIT_RULES.flatMap(({ key, label, formula, paths }) => {
    const count = pieces[key];
    return count === undefined
      ? []
      : [{ key, label, pieces: count, formula, inputs: figures(job, ...paths) }];
  });
  const [even, fuller] = [Math.floor(job.quantity / loads), job.quantity % loads];
  return {
    limits,
    binding: limits.filter((limit) => limit.pieces === piecesPerLoad).map(({ key }) => key),
    piecesPerLoad,
    loads,
    lastLoad: job.quantity - (loads - 1) * piecesPerLoad,
    balanced: Array.from({ length: loads }, (_, i) => (i < fuller ? even + 1 : even)),
  };
}

function noLoad(job: CompleteLoad, pieces: LoadCount['pieces']): CalcError {
  const limit = LIMIT_RULES.find(({ key }) => pieces[key] === 0);
  if (!limit) {
    const allowed = 'at least one of hooks, window, weight, current or proved pieces';
    return new CalcError({ code: 'impossible', argument: 'rack', given: 'without any limit', allowed });
  }
  const [figure] = figures(job, ...limit.paths);
  return new CalcError({
    code: 'impossible',
    argument: figure?.path ?? limit.key,
    given: `${figure?.value}, where ${limit.label} leaves no room for one piece`,
    allowed: 'enough for one piece at least',
  });
}
