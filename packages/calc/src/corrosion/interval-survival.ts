import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import type { EventSpan } from './first-corrosion.ts';

export interface SurvivalStep {
  afterH: number;
  /** Null for the share that was not seen to begin. */
  byH: number | null;
  /** Share of the specimens that began in this span. */
  probability: number;
  /** Share still free at its end. */
  survivingShare: number;
}

/**
 * Share of specimens that are still free of corrosion, where each is only known to have begun between two looks. Within
 * a step nothing says when; between steps the share stands still. Exact times make it the estimate of Kaplan and Meier.
 *
 * 1 to 1000 spans, hours 0 to 1,000,000, `byH` above `afterH` or null.
 * Source: Turnbull, J. R. Stat. Soc. B 38 (1976) 290: self-consistent estimate over the innermost intervals.
 * Errors: `malformed` for no span or too many, `impossible` for one that ends before it begins, `out-of-range` or `not-finite`.
 *
 * @example
 * intervalSurvival({ spans: [{ afterH: 24, byH: 48 }, { afterH: 48, byH: 96 }, { afterH: 96, byH: null }, { afterH: 96, byH: null }] })
 * // [{ afterH: 24, byH: 48, probability: 0.25, survivingShare: 0.75 }, { afterH: 48, byH: 96, probability: 0.25, survivingShare: 0.5 }, { afterH: 96, byH: null, probability: 0.5, survivingShare: 0 }]
 */
export function intervalSurvival(input: { spans: readonly EventSpan[] }): SurvivalStep[] {
  const spans = checked(input.spans);
  const steps = innermost(spans);
  const probabilities = selfConsistent(spans, steps);
  let survivingShare = 1;
  return steps.flatMap(({ after, by }, index) => {
    const probability = probabilities[index] ?? 0;
    if (probability < SMALLEST) return [];
    survivingShare = Math.max(0, survivingShare - probability);
    if (survivingShare < SMALLEST) survivingShare = 0;
    return [{ afterH: after, byH: by === Infinity ? null : by, probability, survivingShare }];
  });
}

/** Less than this is what the iteration left of nothing. */
const SMALLEST = 1e-6;
const MOST_ROUNDS = 20_000;

interface Span {
  after: number;
  by: number;
}

function checked(spans: readonly EventSpan[]): Span[] {
  if (spans.length === 0 || spans.length > 1000)
    throw new CalcError({
      ...{ code: 'malformed', argument: 'spans', given: `${spans.length} spans` },
      allowed: '1 to 1000',
    });
  return spans.map(({ afterH, byH }) => {
    const after = checkNumber('spans.afterH', afterH, { min: 0, max: 1e6 });
    if (byH === null) return { after, by: Infinity };
    const by = checkNumber('spans.byH', byH, { min: 0, max: 1e6 });
    if (by <= after)
      throw new CalcError({
        ...{ code: 'impossible', argument: 'spans.byH', given: by },
        allowed: `after ${after} h, the last look that showed nothing`,
      });
    return { after, by };
  });
}

/** Where a beginning is followed at once by an end: only there can the estimate fall. */
function innermost(spans: readonly Span[]): Span[] {
  // A span does not hold its beginning and holds its end, so at the same hour ends come first.
  const ends = spans
    .flatMap(({ after, by }) => [
      { hour: after, isEnd: false },
      { hour: by, isEnd: true },
    ])
    .sort((one, other) =>
      one.hour === other.hour ? Number(other.isEnd) - Number(one.isEnd) : one.hour - other.hour,
    );
  return ends.flatMap((end, index) => {
    const next = ends[index + 1];
    return !end.isEnd && next?.isEnd === true ? [{ after: end.hour, by: next.hour }] : [];
  });
}

/** Shares that give back themselves: each span hands its one specimen to the steps in it, as likely as they are. */
function selfConsistent(spans: readonly Span[], steps: readonly Span[]): number[] {
  const inside = spans.map(({ after, by }) =>
    steps.flatMap((step, index) => (step.after >= after && step.by <= by ? [index] : [])),
  );
  let shares = steps.map(() => 1 / steps.length);
  for (let round = 0; round < MOST_ROUNDS; round += 1) {
    const next = steps.map(() => 0);
    for (const indices of inside) {
      const total = indices.reduce((sum, index) => sum + (shares[index] ?? 0), 0);
      for (const index of indices)
        next[index] = (next[index] ?? 0) + (shares[index] ?? 0) / total / spans.length;
    }
    const moved = Math.max(...next.map((share, index) => Math.abs(share - (shares[index] ?? 0))));
    shares = next;
    if (moved < 1e-10) break;
  }
  return shares;
}
