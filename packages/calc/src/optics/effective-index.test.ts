import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { wavelengthsNm } from '../colour/index.ts';
import { type ConstantSetName, constantSets } from './constant-sets.ts';
import { effectiveIndex } from './effective-index.ts';
import type { EffectiveMedium } from './effective-medium.ts';

const GREEN = wavelengthsNm.indexOf(550);
const models: EffectiveMedium[] = ['bruggeman', 'maxwell-garnett'];
const flat = (n: number, k: number) => ({ n: wavelengthsNm.map(() => n), k: wavelengthsNm.map(() => k) });
const mixed = (input: { n: number; k: number; voidFraction: number; model: EffectiveMedium }) => {
  const { n, k } = effectiveIndex({ host: flat(input.n, input.k), ...input });
  return { n: n[GREEN] ?? NaN, k: k[GREEN] ?? NaN };
};

const anyCase = fc.record({
  n: fc.double({ min: 1.1, max: 4, noNaN: true }),
  k: fc.double({ min: 0, max: 4, noNaN: true }),
  voidFraction: fc.double({ min: 0, max: 1, noNaN: true }),
});

describe('porous oxides of a separate implementation (reference/optics/effective_medium.csv)', () => {
  it.each(readCsv('optics/effective_medium.csv'))('$host, $void_fraction', (row) => {
    const host = row['host'] as ConstantSetName;
    expect(constantSets[host].n[GREEN]).toBeCloseTo(Number(row['n_host']), 6);
    for (const [model, column] of [
      ['bruggeman', 'bruggeman'],
      ['maxwell-garnett', 'maxwell_garnett'],
    ] as const) {
      const { n, k } = effectiveIndex({ host, voidFraction: Number(row['void_fraction']), model });
      expect(Math.abs((n[GREEN] ?? NaN) - Number(row[`n_${column}`]))).toBeLessThan(1e-7);
      expect(Math.abs((k[GREEN] ?? NaN) - Number(row[`k_${column}`]))).toBeLessThan(1e-7);
    }
  });
});

describe.each(models)('%s', (model) => {
  it('is the oxide without pores and air without oxide', () => {
    fc.assert(
      fc.property(anyCase, ({ n, k }) => {
        const dense = mixed({ n, k, voidFraction: 0, model });
        expect(dense.n).toBeCloseTo(n, 9);
        expect(dense.k).toBeCloseTo(k, 9);
        const air = mixed({ n, k, voidFraction: 1, model });
        expect(air.n).toBeCloseTo(1, 9);
        expect(air.k).toBeCloseTo(0, 9);
      }),
    );
  });

  it('a clear oxide stays clear and within the bounds of Hashin and Shtrikman (1962)', () => {
    fc.assert(
      fc.property(anyCase, ({ n, voidFraction: f }) => {
        const { n: index, k } = mixed({ n, k: 0, voidFraction: f, model });
        const [h, slack] = [n * n, 1e-9];
        expect(k).toBe(0);
        expect(index ** 2).toBeLessThanOrEqual(h + f / (1 / (1 - h) + (1 - f) / (3 * h)) + slack);
        expect(index ** 2).toBeGreaterThanOrEqual(1 + (1 - f) / (1 / (h - 1) + f / 3) - slack);
      }),
    );
  });

  it('never amplifies, and always carries light on', () => {
    fc.assert(
      fc.property(anyCase, (input) => {
        const { n, k } = mixed({ ...input, model });
        expect(n).toBeGreaterThan(0);
        expect(k).toBeGreaterThanOrEqual(0);
      }),
    );
  });
});

it('the models agree where pores are few', () => {
  const few = { n: 2.35, k: 0.1, voidFraction: 0.001 };
  const [bruggeman, maxwellGarnett] = models.map((model) => mixed({ ...few, model }));
  expect(bruggeman?.n).toBeCloseTo(maxwellGarnett?.n ?? NaN, 5);
  expect(bruggeman?.k).toBeCloseTo(maxwellGarnett?.k ?? NaN, 5);
});

it('refuses', () => {
  const given = { host: 'TiO2_Franta2015' as const, voidFraction: 0.2, model: 'bruggeman' as const };
  const refusal = (change: object) => () => effectiveIndex({ ...given, ...change });
  expect(refusal({ host: 'rutile' })).toThrow(expect.objectContaining({ argument: 'host', code: 'unknown' }));
  expect(refusal({ voidFraction: -0.1 })).toThrow(
    expect.objectContaining({ argument: 'voidFraction', code: 'out-of-range' }),
  );
  expect(refusal({ voidFraction: NaN })).toThrow(
    expect.objectContaining({ argument: 'voidFraction', code: 'not-finite' }),
  );
  expect(refusal({ model: 'looyenga' })).toThrow(
    expect.objectContaining({ argument: 'model', code: 'unknown' }),
  );
});
