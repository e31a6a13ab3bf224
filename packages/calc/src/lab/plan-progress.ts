import { checkNumber } from '../check.ts';

/** What is analysed how often, and what the bath did since that was last done. */
export interface StatusPlan {
  /** `KOH and K2CO3`. */
  name: string;
  everyDays: number | null;
  everyLoads: number | null;
  everyAreaM2: number | null;
  everyAmpereHours: number | null;
  /** The last analysis, or the make-up while there is none. Milliseconds since 1970. */
  sinceMs: number;
  since: { loads: number; areaM2: number; ampereHours: number };
}

export interface PlanProgress {
  /** How far the interval is used up, the furthest of days, loads, area and charge; due at 1. */
  share: number;
  due: boolean;
  /** By the calendar; null when it does not count days. */
  dueMs: number | null;
  words: string;
}

const DAY_MS = 86_400_000;

export function planProgress(plan: StatusPlan, { nowMs, at }: { nowMs: number; at: number }): PlanProgress {
  const { loads, areaM2, ampereHours } = plan.since;
  const used = (name: string, value: number): number =>
    checkNumber(`plans.${at}.since.${name}`, value, { min: 0 });
  const days = (nowMs - checkNumber(`plans.${at}.sinceMs`, plan.sinceMs)) / DAY_MS;
  const counts = [
    { done: days, every: plan.everyDays, unit: 'days' },
    { done: used('loads', loads), every: plan.everyLoads, unit: 'loads' },
    { done: used('areaM2', areaM2), every: plan.everyAreaM2, unit: 'm²' },
    { done: used('ampereHours', ampereHours), every: plan.everyAmpereHours, unit: 'A·h' },
  ].flatMap(({ done, every, unit }) => (every === null ? [] : [{ done, every, unit, share: done / every }]));
  const furthest = counts.reduce<(typeof counts)[number] | null>(
    (most, one) => (most === null || one.share > most.share ? one : most),
    null,
  );
  const share = Math.max(0, furthest?.share ?? 0);
  const words =
    furthest === null
      ? `${plan.name} has no interval`
      : `${plan.name} is due: ${Number(furthest.done.toPrecision(3))} of ${furthest.every} ${furthest.unit} since the last analysis`;
  return {
    share,
    due: share >= 1,
    dueMs: plan.everyDays === null ? null : plan.sinceMs + plan.everyDays * DAY_MS,
    words,
  };
}
