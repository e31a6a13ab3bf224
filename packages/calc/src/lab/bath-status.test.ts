import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { bathStatus, type BathStatusInput, type WatchedComponent } from './bath-status.ts';
import { judgeResult } from './judge-result.ts';

const DAY = 86_400_000;
const now = 1_000 * DAY;
const limits = { target: 0.5, low: 0.48, high: 0.52, stopLow: 0.46, stopHigh: 0.54 };
const koh = (value: number | null, standardUncertainty: number | null = 0.004): WatchedComponent => ({
  name: 'KOH',
  unit: 'massFraction',
  limits,
  latest: value === null ? null : { value, standardUncertainty },
});
const plan = (extra: Partial<BathStatusInput['plans'][number]> = {}) => ({
  name: 'KOH',
  everyDays: 7,
  everyLoads: null,
  everyAreaM2: null,
  everyAmpereHours: null,
  sinceMs: now - 3 * DAY,
  since: { loads: 0, areaM2: 0, ampereHours: 0 },
  ...extra,
});
const status = (extra: Partial<BathStatusInput>) =>
  bathStatus({ nowMs: now, components: [koh(0.5)], plans: [plan()], holds: [], requests: [], ...extra });

describe('a result in its limits', () => {
  it.each([
    [0.5, 0.004, 'in-range', 'is in its working range'],
    [0.48, 0.004, 'in-range', 'is in its working range'],
    [0.475, 0.004, 'watch', 'is below its working range'],
    [0.46, 0.004, 'watch', 'is below its working range'],
    [0.459, 0.004, 'stop', 'is below its stop limit'],
    [0.521, 0.004, 'watch', 'is above its working range'],
    [0.541, 0.004, 'stop', 'is above its stop limit'],
    [0.5, 0.021, 'watch', 'cannot be told from its stop limit'],
    [0.5, null, 'in-range', 'is in its working range'],
  ] as const)('%d +- %d is %s: %s', (...[value, standardUncertainty, state, because]) => {
    expect(judgeResult({ value, standardUncertainty, limits })).toMatchObject({ state, because });
  });

  it('without limits is not judged', () => {
    const none = { target: 1, low: null, high: null, stopLow: null, stopHigh: null };
    expect(judgeResult({ value: 9, standardUncertainty: null, limits: none }).state).toBe('no-limits');
  });
});

describe('a bath', () => {
  it('in range needs nobody’s word and says when the next analysis is due', () => {
    expect(status({})).toMatchObject({
      state: 'in-range',
      overdue: false,
      needsOverride: false,
      reasons: [],
    });
    expect(status({}).nextDueMs).toBe(now + 4 * DAY);
  });

  it('is stopped by one figure, which comes first among the reasons', () => {
    const found = status({ components: [koh(0.47), koh(0.45)], plans: [plan({ sinceMs: now - 9 * DAY })] });
    expect(found).toMatchObject({ state: 'stop', needsOverride: true });
    expect(found.reasons).toEqual([
      'KOH is below its stop limit: 45 wt%, limit 46 wt%',
      'KOH is due: 9 of 7 days since the last analysis',
      'KOH is below its working range: 47 wt%, limit 48 wt%',
    ]);
    expect(found.components).toEqual(['watch', 'stop']);
  });

  it.each([
    ['days', { sinceMs: now - 7 * DAY }],
    ['loads', { everyLoads: 40, since: { loads: 40, areaM2: 0, ampereHours: 0 } }],
    ['area', { everyAreaM2: 12, since: { loads: 1, areaM2: 12.5, ampereHours: 0 } }],
    ['charge', { everyAmpereHours: 900, since: { loads: 1, areaM2: 1, ampereHours: 900 } }],
  ] as const)('is due by %s, whichever comes first', (_what, extra) => {
    expect(status({ plans: [plan(extra)] })).toMatchObject({
      state: 'watch',
      overdue: true,
      needsOverride: true,
    });
  });

  it('waits for the analysis that was asked for, from the moment it is due', () => {
    const asked = { dueMs: now, words: 'X-00001 was added: confirm it by an analysis' };
    expect(status({ requests: [asked] })).toMatchObject({ overdue: true, reasons: [asked.words] });
    expect(status({ requests: [{ ...asked, dueMs: now + 1 }] })).toMatchObject({
      overdue: false,
      nextDueMs: now + 1,
    });
  });

  it('on hold needs a word whatever its figures, which are told all the same; so does one that nobody watches', () => {
    const holds = [{ words: 'on hold for X-00001: it mixes in' }];
    expect(status({ holds })).toMatchObject({
      state: 'on-hold',
      overdue: false,
      needsOverride: true,
      reasons: ['on hold for X-00001: it mixes in'],
    });
    expect(status({ holds, components: [koh(0.45)] })).toMatchObject({
      state: 'on-hold',
      reasons: ['on hold for X-00001: it mixes in', 'KOH is below its stop limit: 45 wt%, limit 46 wt%'],
    });
    expect(status({ holds, components: [] })).toMatchObject({ state: 'on-hold', needsOverride: true });
  });

  it('that was never analysed is watched; one with nothing to watch is not', () => {
    expect(status({ components: [koh(null)] }).reasons).toEqual(['KOH was never analysed']);
    expect(status({ components: [] })).toMatchObject({ state: 'not-watched', needsOverride: false });
  });

  it('refuses a clock or a count that is none', () => {
    expect(() => status({ nowMs: NaN })).toThrow('nowMs');
    expect(() => status({ plans: [plan({ since: { loads: -1, areaM2: 0, ampereHours: 0 } })] })).toThrow(
      'plans.0.since.loads',
    );
  });

  it('never gets better by another bad figure, another plan or the passing of time', () => {
    const rank = { 'not-watched': 0, 'in-range': 1, watch: 2, stop: 3, 'on-hold': 4 };
    const value = fc.double({ min: 0.4, max: 0.6, noNaN: true });
    fc.assert(
      fc.property(value, value, fc.nat({ max: 30 }), (one, other, days) => {
        const alone = status({ components: [koh(one)] });
        const both = status({ components: [koh(one), koh(other)] });
        const later = bathStatus({
          nowMs: now + days * DAY,
          components: [koh(one)],
          plans: [plan()],
          holds: [],
          requests: [],
        });
        expect(rank[both.state]).toBeGreaterThanOrEqual(rank[alone.state]);
        expect(rank[later.state]).toBeGreaterThanOrEqual(rank[alone.state]);
        expect(later.needsOverride || !alone.needsOverride).toBe(true);
      }),
    );
  });
});
