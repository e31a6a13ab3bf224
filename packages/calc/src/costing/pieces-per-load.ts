import { CalcError } from '../errors.ts';
import { type CompleteLoad, completeLoad } from './check-job.ts';
import type { LoadJob } from './job.ts';
import { type LoadLimit, type LoadLimitKey, limitsOf } from './load-limits.ts';

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
 * piecesPerLoad(EXAMPLE_JOB) // { piecesPerLoad: 47, binding: ['amps'], loads: 6, lastLoad: 5, balanced: [40, 40, 40, 40, 40, 40] }
 */
export function piecesPerLoad(job: LoadJob): LoadPlan {
  return planLoads(completeLoad(job));
}

export function planLoads(job: CompleteLoad): LoadPlan {
  const limits = limitsOf(job);
  const piecesPerLoad = Math.min(...limits.map(({ pieces }) => pieces));
  const binding = limits.filter(({ pieces }) => pieces === piecesPerLoad);
  if (limits.length === 0) {
    const allowed = 'at least one of hooks, window, weight, current or validated pieces';
    throw new CalcError({ code: 'impossible', argument: 'rack', given: 'without any limit', allowed });
  }
  if (piecesPerLoad < 1) {
    const [first] = binding;
    const given = binding.map(({ label }) => label).join(', ');
    throw new CalcError({
      code: 'impossible',
      argument: first?.inputs[0]?.path ?? 'rack',
      given: `${String(first?.inputs[0]?.value)}, which leaves no room for one piece (${given})`,
      allowed: 'enough for at least one piece',
    });
  }
  const { quantity } = job;
  const loads = Math.ceil(quantity / piecesPerLoad);
  const [even, fuller] = [Math.floor(quantity / loads), quantity % loads];
  return {
    limits,
    binding: binding.map(({ key }) => key),
    piecesPerLoad,
    loads,
    lastLoad: quantity - (loads - 1) * piecesPerLoad,
    balanced: Array.from({ length: loads }, (_, i) => (i < fuller ? even + 1 : even)),
  };
}
