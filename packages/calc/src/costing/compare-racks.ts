import { checkFinite } from '../check.ts';
import { CalcError } from '../errors.ts';
import { completeJob, completeLoad } from './check-job.ts';
import type { Job, JobRack, LoadJob } from './job.ts';
import { countLoads } from './pieces-per-load.ts';
import { priceAmounts } from './price-amounts.ts';

/** What a lot comes to on one of several racks. */
export interface RackChoice<R> {
  rack: R;
  /** Null where not one piece fits a load on it. */
  loads: number | null;
  /** Of the lot, without one-off charges; null where it was not asked for, or where nothing fits. */
  priceTotal: number | null;
  /** Why nothing fits; empty where something does. */
  why: string;
}

/**
 * The racks a lot could be priced on, the cheapest first and those that take no piece last. Of racks that cost the same
 * the one named first stays first.
 *
 * Units and ranges: those of the job. Source: direct computation. Errors: `not-finite` with the path of the figure; any
 * other comes back as the reason of the rack, of every rack where it is the job's.
 *
 * @example
 * const { rack: _, ...job } = EXAMPLE_JOB;
 * racksByPrice({ job, racks: [EXAMPLE_JOB.rack] }).map((choice) => choice.priceTotal) // [372.68]
 */
export const racksByPrice = <R extends JobRack>({
  job,
  racks,
}: {
  job: Omit<Job, 'rack'>;
  racks: readonly R[];
}): RackChoice<R>[] =>
  compare(racks, (rack) => {
    const { count, priceTotal } = priceAmounts(completeJob({ ...job, rack }));
    return { loads: count.loads, priceTotal };
  }).sort((a, b) => rank(a.priceTotal, b.priceTotal));

/**
 * The same where no price is known: the rack that takes the fewest loads first, since each load takes the line as long
 * as a full one.
 *
 * Units and ranges: those of the job. Source: common practice, no source. Errors: as {@link racksByPrice}.
 *
 * @example
 * const { rack: _, ...job } = EXAMPLE_JOB;
 * racksByLoads({ job, racks: [EXAMPLE_JOB.rack] }).map((choice) => choice.loads) // [6]
 */
export function racksByLoads<R extends JobRack>({
  job,
  racks,
}: {
  job: Omit<LoadJob, 'rack'>;
  racks: readonly R[];
}): RackChoice<R>[] {
  checkFinite('job', job);
  return compare(racks, (rack) => ({
    loads: countLoads(completeLoad({ ...job, rack })).loads,
    priceTotal: null,
  })).sort((a, b) => rank(a.loads, b.loads));
}

function compare<R extends JobRack>(
  racks: readonly R[],
  compute: (rack: R) => Pick<RackChoice<R>, 'loads' | 'priceTotal'>,
): RackChoice<R>[] {
  return racks.map((rack) => {
    try {
      return { rack, ...compute(rack), why: '' };
    } catch (error) {
      if (!(error instanceof CalcError) || error.code === 'not-finite') throw error;
      return { rack, loads: null, priceTotal: null, why: error.message };
    }
  });
}

const rank = (a: number | null, b: number | null): number =>
  a === b ? 0 : a === null ? 1 : b === null ? -1 : a - b;
