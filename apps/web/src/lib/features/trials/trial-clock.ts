import type { TrialRun } from '@huelot/contracts';

/** What was stamped at this tablet and is not on the server yet. */
export type PendingStamp = { atMs: number } & (
  | { kind: 'in' | 'out' | 'resume' }
  | { kind: 'lift'; position: number }
  | { kind: 'pause'; reason: string; supplyOff: boolean }
);

export interface TrialClock {
  inMs: number | null;
  outMs: number | null;
  liftsMs: number[];
  pauses: { fromMs: number; toMs: number | null; supplyOff: boolean; reason: string }[];
}

/** The stamps of the server with those that still wait here. */
export function clockOf(
  run: Pick<TrialRun, 'inAt' | 'outAt' | 'lifts' | 'pauses'>,
  waiting: readonly PendingStamp[],
): TrialClock {
  const ms = (instant: string | null) => (instant === null ? null : Date.parse(instant));
  const clock: TrialClock = {
    inMs: ms(run.inAt),
    outMs: ms(run.outAt),
    liftsMs: run.lifts.map(({ at }) => Date.parse(at)),
    pauses: run.pauses.map(({ from, to, supplyOff, reason }) => ({
      fromMs: Date.parse(from),
      toMs: ms(to),
      supplyOff,
      reason,
    })),
  };
  for (const stamp of waiting) {
    const open = clock.pauses.find(({ toMs }) => toMs === null);
    if (stamp.kind === 'in') clock.inMs ??= stamp.atMs;
    if (stamp.kind === 'out') clock.outMs ??= stamp.atMs;
    if (stamp.kind === 'lift' && stamp.position > clock.liftsMs.length) clock.liftsMs.push(stamp.atMs);
    if (stamp.kind === 'pause' && open === undefined)
      clock.pauses.push({
        fromMs: stamp.atMs,
        toMs: null,
        supplyOff: stamp.supplyOff,
        reason: stamp.reason,
      });
    if (stamp.kind === 'resume' && open !== undefined) open.toMs = stamp.atMs;
  }
  return clock;
}

export const openPause = ({ pauses }: TrialClock) => pauses.find(({ toMs }) => toMs === null) ?? null;

/** Seconds in the bath, without those in which the supply was off; null before In. */
export function elapsedS({ inMs, outMs, pauses }: TrialClock, nowMs: number): number | null {
  if (inMs === null) return null;
  const end = outMs ?? nowMs;
  const off = pauses
    .filter(({ supplyOff }) => supplyOff)
    .reduce((sum, { fromMs, toMs }) => sum + Math.max(0, (toMs ?? end) - fromMs), 0);
  return Math.max(0, (end - inMs - off) / 1000);
}

export interface Due {
  /** Which lift it is; the number of bands where the last one leaves. */
  position: number;
  /** Seconds until then; below zero where it is late. */
  leftS: number;
}

/**
 * The next thing to do at a strip and in how many seconds: each lift an interval after the one planned before, whatever
 * that one was late, and later by the pauses. Null before In and after Out.
 *
 * @example
 * nextDue({ inMs: 0, outMs: null, liftsMs: [61_000], pauses: [] }, { intervalS: 60, pieces: 7, nowMs: 100_000 }) // { position: 2, leftS: 20 }
 */
export function nextDue(
  clock: TrialClock,
  { intervalS, pieces, nowMs }: { intervalS: number; pieces: number; nowMs: number },
): Due | null {
  if (clock.inMs === null || clock.outMs !== null) return null;
  const position = Math.min(clock.liftsMs.length + 1, pieces);
  const paused = clock.pauses.reduce((sum, { fromMs, toMs }) => sum + (toMs ?? nowMs) - fromMs, 0);
  const dueMs = clock.inMs + position * intervalS * 1000 + paused;
  return { position, leftS: (dueMs - nowMs) / 1000 };
}
