import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EXAMPLE_JOB, priceJob, priceQuantities } from './index.ts';
import { roundHalfAway } from './money.ts';

const quantities = fc.uniqueArray(fc.integer({ min: 1, max: 400 }), { minLength: 2, maxLength: 5 });
/** Yen, euro, dinar: what an invoice rounds to. */
const minorDigits = fc.constantFrom(0, 2, 3);

describe('the advice that the next break is cheaper', () => {
  it('was said of two prices that an invoice rounds to the same', () => {
    const advised = fc.property(quantities, minorDigits, (breaks, digits) => {
      const job = { ...EXAMPLE_JOB, currency: { exchangeRate: 1, minorDigits: digits } };
      const rows = priceQuantities({ job, quantities: breaks });
      rows.forEach(({ quantity, unitPrice, nextBreakCheaperFrom: from, nextBreakMessage }, index) => {
        const next = rows[index + 1];
        const billed = (pieces: number) => roundHalfAway(pieces * unitPrice, digits);
        expect(nextBreakMessage === '').toBe(from === null);
        if (from === null) {
          if (next)
            expect(billed(next.quantity - 1)).toBeLessThanOrEqual(
              Math.max(next.priceTotal, billed(quantity)),
            );
          return;
        }
        expect(from).toBeGreaterThanOrEqual(quantity);
        expect(billed(from)).toBeGreaterThan(next?.priceTotal ?? NaN);
        if (from > quantity) expect(billed(from - 1)).toBeLessThanOrEqual(next?.priceTotal ?? NaN);
        // The figures that the sentence states are those of the list, not rounded a second time.
        expect(nextBreakMessage).toContain(`for ¤${next?.priceTotal.toFixed(digits)} cost less`);
      });
    });
    fc.assert(advised, { numRuns: 200, seed: 4070 });
  });

  it('compared prices of one piece that were rounded before they were added', () => {
    const [first] = priceQuantities({ job: EXAMPLE_JOB, quantities: [25, 120] });
    const whole = priceJob({ ...EXAMPLE_JOB, quantity: 120 });
    expect(first?.nextBreakMessage).toContain(whole.priceTotal.toFixed(2));
    expect(roundHalfAway(whole.unitPrice, 2) * 120).not.toBe(whole.priceTotal);
  });
});
