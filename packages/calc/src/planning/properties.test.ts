import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Plan, type PlanLot, scheduleLots, type Shop, type Span } from './index.ts';

const TANKS = ['a', 'b', 'c', 'd'];
const SUPPLIES = [
  { id: 'p', tankIds: ['a', 'b'] },
  { id: 'q', tankIds: ['b', 'c'] },
];

const someTanks = fc.shuffledSubarray(TANKS, { minLength: 1, maxLength: 2 });
const busy = fc.array(
  fc
    .record({ fromS: fc.nat(2000), lengthS: fc.integer({ min: 1, max: 200 }) })
    .map(({ fromS, lengthS }) => ({ fromS, untilS: fromS + lengthS })),
  { maxLength: 3 },
);

const anyStep = fc.record({
  tankIds: fc.oneof({ weight: 5, arbitrary: someTanks }, { weight: 1, arbitrary: fc.constant<string[]>([]) }),
  durationS: fc.nat(120),
  dripS: fc.nat(10),
  maxWaitS: fc.constantFrom(0, 0, 5, 60),
  mayRest: fc.boolean(),
});
const electricStep = fc.record({
  tankIds: fc.constantFrom(['a'], ['b'], ['c'], ['a', 'c']),
  durationS: fc.nat(120),
  dripS: fc.nat(10),
  supplyIds: fc.constant(['p', 'q']),
});

const anyLot = fc.record({
  dueS: fc.option(fc.nat(5000)),
  releaseS: fc.nat(500),
  priority: fc.nat(2),
  steps: fc.array(fc.oneof({ weight: 3, arbitrary: anyStep }, { weight: 1, arbitrary: electricStep }), {
    minLength: 1,
    maxLength: 6,
  }),
});

const anyShop: fc.Arbitrary<Shop> = fc.record({
  startS: fc.nat(300),
  shifts: fc
    .array(fc.record({ gapS: fc.nat(300), lengthS: fc.integer({ min: 100, max: 1500 }) }), {
      minLength: 1,
      maxLength: 4,
    })
    .map((list) => {
      let at = 0;
      return list.map(({ gapS, lengthS }) => {
        const fromS = at + gapS;
        at = fromS + lengthS;
        return { fromS, untilS: at };
      });
    }),
  transferS: fc.nat(15),
  tanks: fc
    .tuple(busy, busy, busy, busy)
    .map((spans) => TANKS.map((id, i) => ({ id, busy: spans[i] ?? [] }))),
  supplies: fc
    .tuple(busy, busy)
    .map((spans) => SUPPLIES.map((supply, i) => ({ ...supply, busy: spans[i] ?? [] }))),
  lots: fc.array(anyLot, { maxLength: 8 }).map((list) => list.map((lot, id) => ({ id, ...lot }))),
});

const overlap = (a: Span, b: Span): boolean => a.fromS < b.untilS && b.fromS < a.untilS;

/** No two of these at once, and none in a busy time. */
function apart(taken: Span[], busySpans: readonly Span[]): boolean {
  const real = taken.filter(({ fromS, untilS }) => untilS > fromS).toSorted((a, b) => a.fromS - b.fromS);
  const alone = real.every((span, i) => i === 0 || (real[i - 1]?.untilS ?? 0) <= span.fromS);
  return alone && real.every((span) => !busySpans.some((other) => overlap(span, other)));
}

const steps = (plan: Plan) => plan.lots.flatMap((lot) => lot.steps);

describe('every plan', () => {
  it('never has two loads in one tank, nor two on one supply, nor either in a busy time', () => {
    fc.assert(
      fc.property(anyShop, (shop) => {
        const plan = scheduleLots(shop);
        for (const tank of shop.tanks) {
          const taken = steps(plan).filter(({ tankId }) => tankId === tank.id);
          expect(
            apart(
              taken.map(({ startS, leaveS }) => ({ fromS: startS, untilS: leaveS })),
              tank.busy ?? [],
            ),
          ).toBe(true);
        }
        for (const supply of shop.supplies) {
          const taken = steps(plan).filter(({ supplyId }) => supplyId === supply.id);
          expect(
            apart(
              taken.map(({ startS, endS }) => ({ fromS: startS, untilS: endS })),
              supply.busy ?? [],
            ),
          ).toBe(true);
        }
      }),
      { numRuns: 300 },
    );
  });

  it('gives each step its time, its tank, its supply, and waits no longer than it may', () => {
    fc.assert(
      fc.property(anyShop, (shop) => {
        for (const lot of scheduleLots(shop).lots) {
          const asked = shop.lots.find(({ id }) => id === lot.id)?.steps ?? [];
          expect(lot.steps).toHaveLength(asked.length);
          lot.steps.forEach((done, i) => {
            const want = asked[i];
            if (!want) return;
            expect(done.endS - done.startS).toBe(want.durationS);
            const waitS = done.leaveS - done.endS - (want.dripS ?? 0);
            expect(waitS).toBeGreaterThanOrEqual(0);
            expect(waitS).toBeLessThanOrEqual(want.maxWaitS ?? 0);
            if (want.tankIds.length === 0) expect(done.tankId).toBeNull();
            else expect(want.tankIds).toContain(done.tankId);
            const wired = shop.supplies.find(({ id }) => id === done.supplyId)?.tankIds ?? [];
            if (want.supplyIds) expect(wired).toContain(done.tankId);
            else expect(done.supplyId).toBeNull();
            const next = lot.steps[i + 1];
            if (!next) return;
            if (want.mayRest) expect(next.startS).toBeGreaterThanOrEqual(done.leaveS + shop.transferS);
            else expect(next.startS).toBe(done.leaveS + shop.transferS);
          });
        }
      }),
      { numRuns: 300 },
    );
  });

  it('keeps to the shifts, the beginning and the release, and tells lateness', () => {
    fc.assert(
      fc.property(anyShop, (shop) => {
        const plan = scheduleLots(shop);
        for (const { id, startS, endS, dueS, lateS, steps: done } of plan.lots) {
          const lot = shop.lots.find((filter) => filter.id === id);
          expect(startS).toBeGreaterThanOrEqual(Math.max(shop.startS, lot?.releaseS ?? 0));
          expect(lateS).toBe(dueS === null ? 0 : Math.max(0, endS - dueS));
          for (const step of done) {
            expect(
              shop.shifts.some(({ fromS, untilS }) => fromS <= step.startS && step.leaveS <= untilS),
            ).toBe(true);
          }
        }
        expect(plan.lots.length + plan.unplanned.length).toBe(shop.lots.length);
      }),
    );
  });

  it('is the same for the same lots in any order', () => {
    fc.assert(
      fc.property(anyShop, fc.array(fc.nat(), { minLength: 8, maxLength: 8 }), (shop, keys) => {
        const shuffled = shop.lots
          .map((lot, i) => ({ lot, key: keys[i] ?? 0 }))
          .toSorted((a, b) => a.key - b.key);
        expect(scheduleLots({ ...shop, lots: shuffled.map(({ lot }) => lot) })).toEqual(scheduleLots(shop));
      }),
    );
  });
});

describe('against the textbook', () => {
  /**
   * The least delay between two jobs of a flow shop without waiting (Reddi and Ramamoorthy, Operational Research
   * Quarterly 23, 1972, 323): over all machines, what the first has used up to and with one, less what the second uses
   * before it.
   */
  const leastDelay = (first: number[], second: number[]): number =>
    Math.max(
      ...first.map((_, k) => {
        const used = first.slice(0, k + 1).reduce((sum, time) => sum + time, 0);
        return used - second.slice(0, k).reduce((sum, time) => sum + time, 0);
      }),
    );

  it('two lots through the same tanks start that far apart', () => {
    const times = fc.array(fc.integer({ min: 1, max: 300 }), { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(times, times, (first, second) => {
        const lot = (id: number, durations: number[]): PlanLot => ({
          id,
          steps: durations.map((durationS, i) => ({ tankIds: [TANKS[i] ?? 'a'], durationS })),
        });
        const { lots } = scheduleLots({
          startS: 0,
          shifts: [{ fromS: 0, untilS: 10_000 }],
          transferS: 0,
          tanks: TANKS.map((id) => ({ id })),
          supplies: [],
          lots: [lot(1, first), lot(2, second)],
        });
        expect(lots.map(({ startS }) => startS)).toEqual([0, leastDelay(first, second)]);
      }),
    );
  });
});
