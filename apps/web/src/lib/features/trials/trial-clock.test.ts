import { describe, expect, it } from 'vitest';
import { clockOf, elapsedS, nextDue, openPause, type PendingStamp } from './trial-clock.ts';

const at = (s: number) => new Date(s * 1000).toISOString();
const run = { inAt: at(0), outAt: null, lifts: [{ position: 1, at: at(61), by: 'Omar' }], pauses: [] };
const due = (waiting: PendingStamp[], nowS: number) =>
  nextDue(clockOf(run, waiting), { intervalS: 60, pieces: 3, nowMs: nowS * 1000 });

describe('the clock of a strip', () => {
  it('drifted by what each lift was late', () => {
    expect(due([], 100)).toEqual({ position: 2, leftS: 20 });
    expect(due([{ kind: 'lift', position: 2, atMs: 124_000 }], 130)).toEqual({ position: 3, leftS: 50 });
  });

  it('counted a lift twice that the server had and the tablet still kept', () => {
    const kept: PendingStamp[] = [
      { kind: 'lift', position: 1, atMs: 61_000 },
      { kind: 'lift', position: 2, atMs: 120_000 },
    ];
    expect(clockOf(run, kept).liftsMs).toEqual([61_000, 120_000]);
  });

  it('ran on in a pause, and called the pause time under voltage though the supply was off', () => {
    const paused: PendingStamp[] = [{ kind: 'pause', atMs: 70_000, reason: 'slipped', supplyOff: true }];
    expect(openPause(clockOf(run, paused))).toMatchObject({ reason: 'slipped' });
    expect(due(paused, 100)?.leftS).toBe(50);
    expect(due(paused, 300)?.leftS).toBe(50);
    const on: PendingStamp[] = [...paused, { kind: 'resume', atMs: 90_000 }];
    expect(due(on, 100)).toEqual({ position: 2, leftS: 40 });
    expect(elapsedS(clockOf(run, on), 100_000)).toBe(80);
    const lit = on.map((stamp) => (stamp.kind === 'pause' ? { ...stamp, supplyOff: false } : stamp));
    expect(elapsedS(clockOf(run, lit), 100_000)).toBe(100);
  });

  it('asked for a lift before In, after Out, or of a band that leaves with the rest', () => {
    expect(nextDue(clockOf({ ...run, inAt: null }, []), { intervalS: 60, pieces: 3, nowMs: 0 })).toBeNull();
    expect(due([{ kind: 'out', atMs: 90_000 }], 100)).toBeNull();
    const all: PendingStamp[] = [{ kind: 'lift', position: 2, atMs: 120_000 }];
    expect(due(all, 150)).toEqual({ position: 3, leftS: 30 });
    expect(elapsedS(clockOf({ ...run, inAt: null }, []), 0)).toBeNull();
  });
});
