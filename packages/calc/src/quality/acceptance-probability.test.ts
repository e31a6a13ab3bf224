import fc from 'fast-check';
import { binomialDistribution, poissonDistribution } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { acceptanceProbability, qualityAtAcceptance } from './acceptance-probability.ts';
import { samplingPlan } from './sampling-plan.ts';

describe('operating characteristic, tabulated', () => {
  it.each(readCsv('quality/oc_checks.csv'))('n $n, Ac $ac, fraction $fraction', (row) => {
    const plan = { n: Number(row['n']), ac: Number(row['ac']) };
    const fraction = Number(row['fraction']);
    const binomial = acceptanceProbability({ ...plan, fractionNonconforming: fraction });
    const poisson = acceptanceProbability({ ...plan, nonconformitiesPer100: fraction * 100 });
    // The table is printed to six decimals.
    expect(Math.abs(binomial.probability - Number(row['pa_binomial']))).toBeLessThanOrEqual(5.1e-7);
    expect(Math.abs(poisson.probability - Number(row['pa_poisson']))).toBeLessThanOrEqual(5.1e-7);
    expect([binomial.distribution, poisson.distribution]).toEqual(['binomial', 'Poisson']);
  });

  it.each(readCsv('quality/oc_quantiles.csv'))(
    'n $n, Ac $ac: quality accepted with probability $pa',
    (row) => {
      const found = qualityAtAcceptance({
        n: Number(row['n']),
        ac: Number(row['ac']),
        probability: Number(row['pa']),
      });
      expect(
        Math.abs(100 * Number(found.fractionNonconforming) - Number(row['p_binomial_percent'])),
      ).toBeLessThanOrEqual(5.1e-5);
      expect(Math.abs(found.nonconformitiesPer100 - Number(row['p_poisson_percent']))).toBeLessThanOrEqual(
        5.1e-5,
      );
    },
  );

  // MIL-STD-105E (1989) 4.9: a plan accepts most lots at its AQL and few at many times that.
  it('takes a plan as samplingPlan returns it', () => {
    const plan = samplingPlan({ lotSize: 600, level: 'II', aql: '1.0', severity: 'normal' });
    expect(acceptanceProbability({ ...plan, fractionNonconforming: 0.01 }).probability).toBeCloseTo(
      0.953447,
      6,
    );
  });
});

describe('small lots', () => {
  it('counts the draws of a lot of 10 with 3 bad, 4 inspected', () => {
    // By hand: C(7,4)/C(10,4) = 35/210 and [C(7,4) + 3 C(7,3)]/C(10,4) = 140/210.
    const lot = { n: 4, lotSize: 10, nonconformingInLot: 3 };
    expect(acceptanceProbability({ ...lot, ac: 0 }).probability).toBeCloseTo(35 / 210, 12);
    expect(acceptanceProbability({ ...lot, ac: 1 }).probability).toBeCloseTo(140 / 210, 12);
    expect(acceptanceProbability({ ...lot, ac: 3 })).toEqual({
      probability: 1,
      distribution: 'hypergeometric',
    });
  });

  it('finds every bad piece when all are inspected', () => {
    const all = { n: 10, lotSize: 10, ac: 1 };
    expect(acceptanceProbability({ ...all, nonconformingInLot: 1 }).probability).toBe(1);
    expect(acceptanceProbability({ ...all, nonconformingInLot: 2 }).probability).toBe(0);
  });

  it('approaches the binomial as the lot grows', () => {
    const hypergeometric = acceptanceProbability({
      n: 32,
      ac: 2,
      lotSize: 1_000_000,
      nonconformingInLot: 20_000,
    });
    const binomial = acceptanceProbability({ n: 32, ac: 2, fractionNonconforming: 0.02 });
    expect(hypergeometric.probability).toBeCloseTo(binomial.probability, 4);
  });
});

describe('the gap of reduced plans', () => {
  it('accepts up to Re - 1', () => {
    const gap = acceptanceProbability({ n: 32, ac: 2, re: 5, fractionNonconforming: 0.05 });
    expect(gap).toEqual(acceptanceProbability({ n: 32, ac: 4, fractionNonconforming: 0.05 }));
  });
});

describe('against simple-statistics', () => {
  const upTo = (ac: number, probabilities: number[] | undefined) =>
    (probabilities ?? []).slice(0, ac + 1).reduce((total, value) => total + value, 0);

  it('binomial', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 60 }),
        fc.nat(10),
        fc.double({ min: 0.01, max: 0.9, noNaN: true }),
        (n, ac, p) => {
          const { probability } = acceptanceProbability({ n, ac, fractionNonconforming: p });
          expect(probability).toBeCloseTo(ac >= n ? 1 : upTo(ac, binomialDistribution(n, p)), 3);
        },
      ),
    );
  });

  it('Poisson', () => {
    fc.assert(
      fc.property(fc.nat(8), fc.double({ min: 0.5, max: 8, noNaN: true }), (ac, mean) => {
        const { probability } = acceptanceProbability({ n: 100, ac, nonconformitiesPer100: mean });
        const theirs = poissonDistribution(mean) ?? [];
        // Their list stops where the sum is within 0.0001 of one.
        expect(Math.abs(probability - upTo(ac, theirs))).toBeLessThan(2e-4);
      }),
    );
  });
});

describe('properties', () => {
  const plan = fc.record({ n: fc.integer({ min: 1, max: 2000 }), ac: fc.nat(44) });
  const fraction = fc.double({ min: 0, max: 1, noNaN: true });

  it('is a probability that falls as quality falls and rises with Ac', () => {
    fc.assert(
      fc.property(plan, fraction, fraction, (numbers, a, b) => {
        const at = (p: number, ac: number) =>
          acceptanceProbability({ n: numbers.n, ac, fractionNonconforming: p }).probability;
        const [better, worse] = [Math.min(a, b), Math.max(a, b)];
        expect(at(worse, numbers.ac)).toBeGreaterThanOrEqual(0);
        expect(at(better, numbers.ac)).toBeLessThanOrEqual(1);
        expect(at(worse, numbers.ac)).toBeLessThanOrEqual(at(better, numbers.ac) + 1e-9);
        expect(at(a, numbers.ac + 1)).toBeGreaterThanOrEqual(at(a, numbers.ac) - 1e-9);
      }),
    );
  });

  it('reads back the probability it was given', () => {
    fc.assert(
      fc.property(plan, fc.double({ min: 0.001, max: 0.999, noNaN: true }), (numbers, probability) => {
        const { fractionNonconforming, nonconformitiesPer100 } = qualityAtAcceptance({
          ...numbers,
          probability,
        });
        expect(acceptanceProbability({ ...numbers, nonconformitiesPer100 }).probability).toBeCloseTo(
          probability,
          8,
        );
        expect(fractionNonconforming === null).toBe(numbers.ac >= numbers.n);
        if (fractionNonconforming === null) return;
        expect(acceptanceProbability({ ...numbers, fractionNonconforming }).probability).toBeCloseTo(
          probability,
          8,
        );
      }),
    );
  });

  it('accepts a perfect lot and, with Ac below n, never a wholly bad one', () => {
    expect(acceptanceProbability({ n: 5, ac: 0, fractionNonconforming: 0 }).probability).toBe(1);
    expect(acceptanceProbability({ n: 5, ac: 0, nonconformitiesPer100: 0 }).probability).toBe(1);
    expect(acceptanceProbability({ n: 5, ac: 4, fractionNonconforming: 1 }).probability).toBe(0);
    expect(acceptanceProbability({ n: 3, ac: 44, fractionNonconforming: 1 }).probability).toBe(1);
  });
});

describe('limits', () => {
  it.each([
    [
      { n: 5, ac: 0, fractionNonconforming: 1.2 },
      { code: 'out-of-range', argument: 'fractionNonconforming' },
    ],
    [{ n: 5, ac: 0, fractionNonconforming: 0.1, nonconformitiesPer100: 1 }, { code: 'impossible' }],
    [
      { n: 5, ac: 0, lotSize: 4, nonconformingInLot: 1 },
      { code: 'out-of-range', argument: 'lotSize' },
    ],
    [
      { n: 5, ac: 0, lotSize: 9, nonconformingInLot: 10 },
      { code: 'out-of-range', argument: 'nonconformingInLot' },
    ],
    [
      { n: 5, ac: 2, re: 2, fractionNonconforming: 0.1 },
      { code: 'out-of-range', argument: 're' },
    ],
    [
      { n: 0, ac: 2, fractionNonconforming: 0.1 },
      { code: 'out-of-range', argument: 'n' },
    ],
    [
      { n: 5, ac: 0, nonconformitiesPer100: Infinity },
      { code: 'not-finite', argument: 'nonconformitiesPer100' },
    ],
  ])('refuses %o', (input, fault) => {
    expect(() => acceptanceProbability(input)).toThrow(
      expect.objectContaining({ name: 'CalcError', ...fault }),
    );
  });

  it('refuses to read back a certain or impossible acceptance', () => {
    expect(() => qualityAtAcceptance({ n: 5, ac: 0, probability: 1 })).toThrow(/probability is 1/);
    expect(() => qualityAtAcceptance({ n: 5, ac: 0, probability: 0 })).toThrow(/probability is 0/);
  });
});
