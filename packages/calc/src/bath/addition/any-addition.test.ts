import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planned } from '../../../reference/bath/requests.ts';
import { liquidEndsAt } from '../data/solubility.ts';
import { density } from '../density.ts';
import type { Solute } from '../solutes.ts';
import type { AdditionRequest } from './request.ts';

/** Strengths that each solute's density covers. */
const strongest: Partial<Record<Solute, number>> = {
  KOH: 0.49,
  NaOH: 0.49,
  H2SO4: 0.7,
  H3PO4: 0.7,
  Na3PO4: 0.08,
  NH4_2SO4: 0.4,
};

const anyRequest = fc
  .record({
    solute: fc.constantFrom(...(Object.keys(strongest) as (keyof typeof strongest)[])),
    volume: fc.oneof(fc.constant(0), fc.double({ min: 0.01, max: 1.3, noNaN: true })),
    fullVolumeL: fc.double({ min: 10, max: 5000, noNaN: true }),
    freeboard: fc.double({ min: 0, max: 0.2, noNaN: true }),
    temperatureC: fc.double({ min: 20, max: 75, noNaN: true }),
    now: fc.double({ min: 0, max: 1, noNaN: true }),
    target: fc.double({ min: 0.02, max: 1, noNaN: true }),
    stock: fc.double({ min: 0, max: 1, noNaN: true }),
    form: fc.constantFrom('solid' as const, 'liquid' as const),
    fillToMark: fc.boolean(),
    impurity: fc.option(
      fc.record({
        gramsPerLitre: fc.double({ min: 0, max: 80, noNaN: true }),
        targetGramsPerLitre: fc.double({ min: 5, max: 80, noNaN: true }),
      }),
      { nil: undefined },
    ),
  })
  .map(({ volume, freeboard, now, target, stock, form, impurity, ...rest }): AdditionRequest => {
    const top = strongest[rest.solute] ?? 0;
    const targetMassFraction = target * top;
    const strongestStock = form === 'liquid' ? liquidEndsAt[rest.solute] : 1;
    const lift = (strongestStock - targetMassFraction) * (0.05 + 0.95 * stock);
    return {
      ...rest,
      volumeL: volume * rest.fullVolumeL,
      freeboardL: freeboard * rest.fullVolumeL,
      massFraction: now * top,
      targetMassFraction,
      stock: { form, massFraction: Math.min(strongestStock, targetMassFraction + lift) },
      ...(impurity ? { impurity } : {}),
    };
  });

describe('an addition, for any bath', () => {
  it('reaches its target when simulated forward, never overfills, conserves mass', () => {
    fc.assert(
      fc.property(anyRequest, (request) => {
        const plan = planned(request);
        const { solute, temperatureC, stock, fullVolumeL, freeboardL } = request;
        const rho = (massFraction: number): number =>
          density({ solute, massFraction, temperatureC }).kgPerM3 / 1000;
        // Less than a thousandth of a gram in a tonne is not decanted.
        const limitL = (fullVolumeL + freeboardL) * (1 + 1e-8);
        // A bath that stands too high may come down by shrinking as salt goes in; it must never rise.
        const neverAboveL = Math.max(limitL, request.volumeL * (1 + 1e-8));

        let kg = rho(request.massFraction) * request.volumeL;
        let soluteKg = kg * request.massFraction;
        const startKg = kg;
        for (const step of plan.steps) {
          expect(step.kg).toBeGreaterThanOrEqual(0);
          if (step.action === 'decant') {
            soluteKg -= (step.kg * soluteKg) / kg;
            kg -= step.kg;
          } else {
            if (step.action === 'add-stock') soluteKg += step.kg * stock.massFraction;
            kg += step.kg;
          }
          const massFraction = kg > 1e-9 ? soluteKg / kg : 0;
          expect(kg / rho(massFraction)).toBeLessThanOrEqual(neverAboveL);
        }
        expect(plan.bathAfter.volumeL).toBeLessThanOrEqual(limitL);
        const { decant, water, stock: added, bathAfter } = plan;
        expect(startKg - decant.kg + water.kg + added.kg).toBeCloseTo(kg, 6);
        expect(bathAfter.kg).toBeCloseTo(kg, 6);
        if (kg > 1e-6) expect(soluteKg / kg).toBeCloseTo(request.targetMassFraction ?? NaN, 6);
        // Next to no water is left out, and that is said.
        const leftOut = plan.flags.some((flag) => flag.startsWith('a little water'));
        if (leftOut) expect(water.kg).toBe(0);
        const lowest = leftOut ? 0.995 : 1;
        if (request.fillToMark) expect(bathAfter.volumeL).toBeGreaterThan(fullVolumeL * (lowest - 1e-9));
        const { impurity } = request;
        if (impurity) {
          const allowed = Math.max(impurity.targetGramsPerLitre, 0) * (1 + 1e-6);
          expect(bathAfter.impurityGramsPerLitre).toBeLessThanOrEqual(allowed);
        }
      }),
      { numRuns: 500 },
    );
  });

  it('starts a new bath with its water, were it only to hold back the little that shrinking makes room for', () => {
    fc.assert(
      fc.property(anyRequest, ({ impurity: _impurity, ...request }) => {
        const plan = planned({ ...request, volumeL: 0, massFraction: 0 });
        const [first] = plan.steps;
        expect(first?.action).toBe('add-water');
        // Half of it at least when the rest is kept for a second go.
        expect(first?.kg).toBeGreaterThan(plan.water.kg * 0.5);
      }),
    );
  });

  it('decants no more than it must: with a litre less decanted the level would not hold', () => {
    fc.assert(
      fc.property(anyRequest, ({ impurity: _impurity, ...request }) => {
        const plan = planned(request);
        fc.pre(plan.decant.kg > 0);
        expect(plan.bathAfter.volumeL).toBeCloseTo(request.fullVolumeL + request.freeboardL, 5);
        // Either stock or water fills the room, never both.
        expect(Math.min(plan.stock.kg, plan.water.kg)).toBeLessThan(1e-6 * plan.bathAfter.kg);
      }),
    );
  });
});
