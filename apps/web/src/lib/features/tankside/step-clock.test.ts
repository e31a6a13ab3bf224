import { expect, test } from 'vitest';
import type { Waiting } from './queue.svelte.ts';
import { clockText, StepClock } from './step-clock.svelte.ts';

const t0 = Date.parse('2026-11-29T20:00:00.000Z');
const run = (inS: number, outS: number | null) => ({
  inAt: new Date(t0 + inS * 1000).toISOString(),
  inBy: 'Omar',
  outAt: outS === null ? null : new Date(t0 + outS * 1000).toISOString(),
  outBy: outS === null ? null : 'Ines',
});
const clockOf = (stamps: ReturnType<typeof run> | null, waiting: Waiting[] = []) => {
  const clock = new StepClock({
    step: () => ({ id: 5, durationS: 1200, run: stamps }),
    waiting: () => waiting,
  });
  clock.nowMs = t0 + 1353_000;
  return clock;
};

test('the recorded time ran on until the signature', () => {
  // In at 0, out at 20:02, typed and gloves off at 22:33.
  const clock = clockOf(run(0, 1202));
  expect(clock.recordedS).toBe(1202);
  expect(clock.isRunning).toBe(false);
});

test('from the first second the page said that the time was outside its limits', () => {
  const clock = clockOf(run(1340, null));
  expect(clock.elapsedS).toBe(13);
  expect(clock.recordedS).toBeNull();
  expect(clock.isUp).toBe(false);
});

test('the time is up at zero, and no more once the load is out', () => {
  expect(clockOf(run(153, null))).toMatchObject({ leftS: 0, isUp: true });
  expect(clockOf(run(153, 1353))).toMatchObject({ leftS: null, isUp: false });
});

test('a stamp that waits for the network runs the clock as well', () => {
  const common = { key: 'k', personId: 7, person: 'Omar', lotId: 1, stepId: 5, title: '', stuck: null };
  const waiting: Waiting[] = [{ ...common, kind: 'in', happenedAtMs: t0 + 1000_000 }];
  expect(clockOf(null, waiting).elapsedS).toBe(353);
  expect(clockOf(null, [{ ...(waiting[0] as Waiting), stepId: 6 }]).elapsedS).toBeNull();
});

test('an In that another tablet stamped a moment ahead is no time below zero', () => {
  expect(clockOf(run(1354, null)).elapsedS).toBe(0);
});

test('seconds as a clock shows them', () => {
  expect([605, 3605, 9].map(clockText)).toEqual(['10:05', '1:00:05', '0:09']);
});
