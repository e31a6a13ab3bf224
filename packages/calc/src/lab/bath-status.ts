import { checkFinite, checkNumber } from '../check.ts';
import { figureWords, judgeResult, type ResultLimits, type ResultState } from './judge-result.ts';
import { type PlanProgress, planProgress, type StatusPlan } from './plan-progress.ts';
import type { LabUnit } from './readings.ts';

/** Something watched in a bath, with its latest result; null while there is none. */
export interface WatchedComponent {
  name: string;
  unit: LabUnit;
  limits: ResultLimits;
  latest: { value: number; standardUncertainty: number | null } | null;
}

export interface BathStatusInput {
  /** Milliseconds since 1970. */
  nowMs: number;
  components: readonly WatchedComponent[];
  plans: readonly StatusPlan[];
  /** What keeps work out of the bath for now: somebody's judgement, or an addition that is mixing in. */
  holds: readonly { words: string }[];
  /** Analyses asked for and not made yet, each with the words that say why. */
  requests: readonly { dueMs: number; words: string }[];
}

export interface BathStatus {
  state: 'in-range' | 'watch' | 'stop' | 'on-hold' | 'not-watched';
  /** An analysis is due that was not made. */
  overdue: boolean;
  /** On hold, stopped or overdue: work in it needs somebody's word. */
  needsOverride: boolean;
  /** One sentence for each reason, the gravest first. */
  reasons: string[];
  /** When the next analysis falls due by the calendar; null when none does. */
  nextDueMs: number | null;
  /** In the order of the input. */
  components: ResultState[];
  plans: PlanProgress[];
}

/**
 * What a bath may be used for now: `on-hold` while somebody or an addition holds it, whatever its figures; `stop` when a latest result lies outside its stop range; `watch` when one lies
 * outside its working range or too close to a stop limit to tell, when a component was never analysed, or when an
 * analysis is due, by plan or because it was asked for; otherwise `in-range`. Without components it is `not-watched`.
 * Held, stopped and overdue baths need an override.
 *
 * Valid for any number of components, plans, holds and requests; times in milliseconds since 1970.
 * Source: {@link judgeResult}; a plan is due when the first of its days, loads, area and charge is used up.
 * Errors: `not-finite` for the time, `out-of-range` for the use since the last analysis.
 *
 * @example
 * bathStatus({
 *   nowMs: 864_000_000,
 *   components: [
 *     {
 *       name: 'KOH',
 *       unit: 'massFraction',
 *       limits: { target: 0.5, low: 0.48, high: 0.52, stopLow: 0.46, stopHigh: 0.54 },
 *       latest: { value: 0.455, standardUncertainty: 0.004 },
 *     },
 *   ],
 *   plans: [],
 *   holds: [],
 *   requests: [],
 * })
 * // { state: 'stop', needsOverride: true, reasons: ['KOH is below its stop limit: 45.5 wt%, limit 46 wt%'] }
 */
export function bathStatus(input: BathStatusInput): BathStatus {
  const nowMs = checkNumber('nowMs', input.nowMs);
  checkFinite('components', input.components);
  const isHeld = input.holds.length > 0;
  if (input.components.length === 0) {
    return {
      state: isHeld ? 'on-hold' : 'not-watched',
      overdue: false,
      needsOverride: isHeld,
      reasons: input.holds.map(({ words }) => words),
      nextDueMs: null,
      components: [],
      plans: [],
    };
  }
  const judged = input.components.map(judge);
  const plans = input.plans.map((plan, index) => planProgress(plan, { nowMs, at: index }));
  const asked = input.requests.filter(({ dueMs }) => dueMs <= nowMs);
  const stopped = judged.filter(({ state }) => state === 'stop');
  const watched = judged.filter(({ state, missing }) => state === 'watch' || missing);
  const due = plans.filter((plan) => plan.due);
  const overdue = asked.length > 0 || due.length > 0;
  const byFigures = stopped.length > 0 ? 'stop' : watched.length > 0 || overdue ? 'watch' : 'in-range';
  const dates = [...plans.flatMap(({ dueMs }) => dueMs ?? []), ...input.requests.map(({ dueMs }) => dueMs)];
  return {
    state: isHeld ? 'on-hold' : byFigures,
    overdue,
    needsOverride: isHeld || stopped.length > 0 || overdue,
    reasons: [
      ...input.holds.map(({ words }) => words),
      ...stopped.map(({ words }) => words),
      ...asked.map(({ words }) => words),
      ...due.map(({ words }) => words),
      ...watched.map(({ words }) => words),
    ],
    nextDueMs: dates.length === 0 ? null : Math.min(...dates),
    components: judged.map(({ state: one }) => one),
    plans,
  };
}

function judge({ name, unit, limits, latest }: WatchedComponent) {
  if (latest === null)
    return { state: 'no-limits' as const, missing: true, words: `${name} was never analysed` };
  const { state, because, limit } = judgeResult({ ...latest, limits });
  const found = figureWords(latest.value, unit);
  const bound = limit === null || unit === 'judgement' ? '' : `, limit ${figureWords(limit, unit)}`;
  return { state, missing: false, words: `${name} ${because}: ${found}${bound}` };
}
