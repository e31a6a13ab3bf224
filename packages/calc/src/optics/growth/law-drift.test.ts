import { describe, expect, it } from 'vitest';
import { growth, labAt } from '../../../reference/optics/titanium-growth.ts';
import { seeded } from '../../../reference/optics/seeded.ts';
import { lawDrift } from './law-drift.ts';
import { nominalGrowth } from './nominal-growth.ts';

const law = { ...growth, residualDeltaE: 0.8 };
/** Readings of a shop whose films are thicker by a share than the law says, with the scatter of a careful one. */
function readings(count: number, { thicker, seed }: { thicker: number; seed: number }) {
  const random = seeded(seed);
  const moved = { ...law, slopeNmPerV: law.slopeNmPerV * (1 + thicker) };
  return Array.from({ length: count }, () => {
    const voltageV = random.uniform(12, 95);
    const { L, a, b } = labAt(voltageV + 0.1 * random.normal(), moved);
    const read = (value: number) => value + 0.4 * random.normal();
    return { voltageV, lab: { L: Math.min(100, read(L)), a: read(a), b: read(b) } };
  });
}

describe('drift from a growth law', () => {
  it('lets a law stand that holds: 5 of 100 shops at most are told otherwise in fifty readings', () => {
    const told = Array.from({ length: 100 }, (_, seed) =>
      lawDrift({ growth: law, points: readings(50, { thicker: 0, seed: 100 + seed }) }),
    ).filter(({ expiredAt }) => expiredAt !== null);
    expect(told.length).toBeLessThanOrEqual(5);
  });

  it('finds films that became 4 % thicker within ten readings in nine shops of ten', () => {
    const found = Array.from({ length: 50 }, (_, seed) =>
      lawDrift({ growth: law, points: readings(10, { thicker: 0.04, seed: 300 + seed }) }),
    ).filter(({ expiredAt }) => expiredAt !== null);
    expect(found.length).toBeGreaterThanOrEqual(45);
  });

  it('does not end by one reading, however far off, and ends once for all by two', () => {
    const far = { voltageV: 30, lab: { L: 20, a: 40, b: 40 } };
    const right = { voltageV: 30, lab: labAt(30) };
    expect(lawDrift({ growth: law, points: [right, far, right, right] }).expiredAt).toBeNull();
    expect(lawDrift({ growth: law, points: [far, far, right, right, right, right] }).expiredAt).toBe(1);
  });

  it('says nothing of voltages outside its coupons', () => {
    const far = { voltageV: 140, lab: { L: 20, a: 40, b: 40 } };
    const { points, expiredAt } = lawDrift({ growth: law, points: [far, far, far] });
    expect(points.map(({ deltaE }) => deltaE)).toEqual([null, null, null]);
    expect(expiredAt).toBeNull();
  });

  it('refuses a law without coupons', () => {
    expect(() => lawDrift({ growth: nominalGrowth({ system: 'titanium' }), points: [] })).toThrow(
      /literature/,
    );
  });
});
