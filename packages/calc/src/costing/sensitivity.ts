import { CalcError } from '../errors.ts';
import { completeJob, type GivenInput, inputsOf } from './check-job.ts';
import type { Job } from './job.ts';
import { type PriceAmounts, priceAmounts } from './price-amounts.ts';

export interface Sensitivity {
  /** Where the input stands in the job. */
  path: string;
  label: string;
  unit: string;
  value: number;
  /** Change of the price, before rounding, when the input rises by one per cent; null when no price exists there. */
  up: number | null;
  /** The same when it falls by one per cent. */
  down: number | null;
  /** The larger of the two in per cent of the price, without sign: how much this input matters. */
  percent: number;
  /** One per cent is enough to change the number of loads. */
  changesLoads: boolean;
}

const STEP = 0.01;

/**
 * What one per cent of each input does to the price of the lot: the inputs worth knowing well, or worth improving, first.
 *
 * Both directions are computed in full, because a load more or less is a step, not a slope. Inputs that are zero, left
 * out, without limit, or whole numbers (hooks, layers, pieces) are not moved. When the minimum lot charge decides the
 * price most effects are zero.
 *
 * Units and ranges: those of {@link JOB_INPUTS}. Source: direct recomputation. Errors: those of {@link priceJob}.
 *
 * @example
 * sensitivity(EXAMPLE_JOB).find((row) => row.path === 'rates.linePerHour') // { value: 46, up: 1.167296, percent: 0.31322 }
 */
export function sensitivity(job: Job): Sensitivity[] {
  const price = priceAmounts(completeJob(job));
  return inputsOf(job)
    .filter(movable)
    .map(({ path, input, value }) => {
      const moved = [1 + STEP, 1 - STEP].map((factor) => priceOrNull(scaled(job, { path, factor }, '')));
      const [up = null, down = null] = moved.map(
        (other) => other && other.priceBeforeRounding - price.priceBeforeRounding,
      );
      return {
        path,
        label: input.label,
        unit: input.unit,
        value,
        up,
        down,
        percent: shareOf(Math.max(Math.abs(up ?? 0), Math.abs(down ?? 0)), price.priceBeforeRounding),
        changesLoads: moved.some((other) => other !== null && other.count.loads !== price.count.loads),
      };
    })
    .sort((a, b) => b.percent - a.percent);
}

const movable = (input: GivenInput): input is GivenInput & { value: number } =>
  typeof input.value === 'number' && input.value !== 0 && !input.input.whole;

const shareOf = (change: number, price: number): number => (price === 0 ? 0 : (100 * change) / price);

/** Past the range of an input, or where no piece fits any more, there is no price to compare with. */
function priceOrNull(job: Job): PriceAmounts | null {
  try {
    return priceAmounts(completeJob(job));
  } catch (error) {
    if (error instanceof CalcError) return null;
    throw error;
  }
}

/** A copy with the one number at `path` multiplied. */
function scaled<T>(node: T, change: { path: string; factor: number }, here: string): T {
  if (typeof node === 'number') return here === change.path ? ((node * change.factor) as T) : node;
  if (Array.isArray(node))
    return node.map((element, i) => scaled<unknown>(element, change, `${here}[${i}]`)) as T;
  if (typeof node !== 'object' || node === null) return node;
  const copied = Object.entries(node).map(([key, child]) => [
    key,
    scaled<unknown>(child, change, here ? `${here}.${key}` : key),
  ]);
  return Object.fromEntries(copied) as T;
}
