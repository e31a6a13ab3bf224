import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Job, piecesPerLoad, priceJob, priceQuantities } from './index.ts';
import { roundHalfAway } from './money.ts';

const upTo = (max: number) => fc.double({ min: 0, max, noNaN: true });
const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Any job whose rack takes at least one piece. */
const anyJob: fc.Arbitrary<Job> = fc.record({
  quantity: fc.integer({ min: 1, max: 3000 }),
  part: fc.record({
    areaMm2: between(100, 100_000),
    massKg: between(0.001, 1),
    widthMm: between(5, 200),
    heightMm: between(5, 200),
    heatCapacityJPerKgK: upTo(1000),
    masks: fc.array(fc.record({ count: fc.nat(5), timeS: upTo(200), materialCost: upTo(2) }), {
      maxLength: 3,
    }),
  }),
  rack: fc.record({
    hooks: fc.option(fc.integer({ min: 1, max: 200 })),
    windowWidthMm: between(200, 2000),
    windowHeightMm: between(200, 1000),
    layers: fc.integer({ min: 1, max: 3 }),
    gapMm: upTo(50),
    maxLoadKg: between(1, 60),
    bareAreaMm2: upTo(50_000),
  }),
  limits: fc.record({ maxCurrentA: fc.option(between(60, 600)) }),
  process: fc.record({
    peakAPerM2: upTo(400),
    chargeCPerM2: upTo(300_000),
    averageVoltageV: upTo(100),
    rectifierEfficiency: between(0.5, 1),
    cycleS: upTo(10_000),
    heatingKw: upTo(30),
    temperatureRiseK: upTo(80),
    rinseLPerLoad: upTo(500),
    chemicals: fc.array(
      fc.record({
        consumptionGPerM2: upTo(200),
        pricePerKg: upTo(20),
        dragOutLPerM2: upTo(3),
        concentrationGPerL: upTo(800),
        recoveryShare: upTo(1),
      }),
      { maxLength: 3 },
    ),
  }),
  labour: fc.record({
    setupS: upTo(7200),
    rackS: upTo(90),
    unrackS: upTo(90),
    inspectS: upTo(90),
    packS: upTo(90),
  }),
  charges: fc.record({ certificateCost: upTo(50), packingCost: upTo(50) }),
  rates: fc.record({
    labourPerHour: upTo(100),
    linePerHour: upTo(200),
    energyPerKwh: upTo(1),
    waterPerM3: upTo(20),
    wastePerM3: upTo(40),
    stripPerM2: upTo(30),
    reworkShare: upTo(0.5),
    reworkMayFailAgain: fc.boolean(),
    overheadShare: upTo(1),
    overheadPerLabourHour: upTo(40),
    marginShare: upTo(0.8),
    minimumLot: upTo(300),
    expediteShare: upTo(1),
  }),
});

describe('every job', () => {
  it('has lines and steps that add up to its price', () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const { lines, steps, priceTotal } = priceJob(job);
        const sum = [...lines, ...steps].reduce((total, { amount }) => total + amount, 0);
        expect(Math.abs(sum - priceTotal)).toBeLessThanOrEqual(1e-12 * Math.max(1, priceTotal));
      }),
    );
  });

  it('never costs less for more pieces, computed in full at the same rates', () => {
    fc.assert(
      fc.property(
        anyJob,
        fc.uniqueArray(fc.integer({ min: 1, max: 3000 }), { minLength: 2, maxLength: 5 }),
        (job, quantities) => {
          const totals = priceQuantities({ job, quantities }).map(({ priceTotal }) => priceTotal);
          expect(totals).toEqual(totals.toSorted((a, b) => a - b));
        },
      ),
    );
  });

  it('has a price of whole cents, never under the minimum', () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const { priceTotal } = priceJob(job);
        expect(Number(priceTotal.toFixed(2))).toBe(priceTotal);
        expect(priceTotal).toBeGreaterThanOrEqual(job.rates.minimumLot - 0.005);
      }),
    );
  });

  it('hangs every piece once, in loads that differ by one piece at most and never exceed a limit', () => {
    fc.assert(
      fc.property(anyJob, (job) => {
        const { balanced, limits, loads, lastLoad, piecesPerLoad: full } = piecesPerLoad(job);
        expect(balanced.reduce((sum, pieces) => sum + pieces, 0)).toBe(job.quantity);
        expect(Math.max(...balanced) - Math.min(...balanced)).toBeLessThanOrEqual(1);
        expect(limits.every(({ pieces }) => Math.max(...balanced) <= pieces)).toBe(true);
        expect((loads - 1) * full + lastLoad).toBe(job.quantity);
        expect(lastLoad).toBeGreaterThan(0);
      }),
    );
  });

  it('keeps the promise of a break list: below the named quantity the break is not dearer, from it on it is', () => {
    fc.assert(
      fc.property(
        anyJob,
        fc.integer({ min: 1, max: 500 }),
        fc.integer({ min: 2, max: 500 }),
        (job, quantity, step) => {
          const [first, second] = priceQuantities({ job, quantities: [quantity, quantity + step] });
          const unit = first?.unitPrice ?? NaN;
          const next = second?.priceTotal ?? NaN;
          const from = first?.nextBreakCheaperFrom;
          if (from === null || from === undefined) {
            expect(roundHalfAway((quantity + step - 1) * unit, 2)).toBeLessThanOrEqual(next);
          } else {
            expect(roundHalfAway(from * unit, 2)).toBeGreaterThan(next);
            expect(from === quantity || roundHalfAway((from - 1) * unit, 2) <= next).toBe(true);
          }
        },
      ),
    );
  });
});
