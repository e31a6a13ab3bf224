import fc from 'fast-check';
import { Matrix, QrDecomposition } from 'ml-matrix';
import { linearRegression, rSquared } from 'simple-statistics';
import { describe, expect, it } from 'vitest';
import { groupedBy, readCsv } from '../../reference/csv.ts';
import { linearFit } from './linear-fit.ts';
import { agreeingDigits } from '../../reference/agreeing-digits.ts';

const certified = groupedBy('dataset', readCsv('numeric/strd_linear_certified.csv'));
const observations = groupedBy('dataset', readCsv('numeric/strd_linear_data.csv'));

/** Wampler5 hides an exact polynomial under noise a million times larger; any method in double precision loses most. */
const digits = (dataset: string): number => ({ Wampler4: 7.5, Wampler5: 5.5 })[dataset] ?? 9;

describe('NIST Statistical Reference Datasets, linear regression', () => {
  it.each([...certified])('%s', (dataset, rows) => {
    const figures = new Map(rows.map((row) => [row['quantity'], Number(row['value'])]));
    const points = observations.get(dataset) ?? [];
    const fit = linearFit({
      x: points.map((row) => Number(row['x'])),
      y: points.map((row) => Number(row['y'])),
      degree: figures.get('degree') ?? NaN,
      intercept: figures.get('intercept') === 1,
    });
    const coefficients = rows.filter((row) => row['quantity']?.startsWith('B'));
    expect(fit.coefficients).toHaveLength(coefficients.length);
    for (const [k, row] of coefficients.entries()) {
      expect(agreeingDigits(fit.coefficients[k], Number(row['value'])), row['quantity']).toBeGreaterThan(
        digits(dataset),
      );
      expect(
        agreeingDigits(fit.standardErrors?.[k], Number(row['sd'])),
        `sd ${row['quantity']}`,
      ).toBeGreaterThan(9);
    }
    expect(fit.degreesOfFreedom).toBe(figures.get('df_residual'));
    expect(agreeingDigits(fit.rSquared, figures.get('r_squared'))).toBeGreaterThan(12);
    expect(agreeingDigits(fit.residualSumOfSquares, figures.get('residual_ss'))).toBeGreaterThan(12);
    expect(agreeingDigits(fit.residualStandardDeviation, figures.get('residual_sd'))).toBeGreaterThan(8);
  });
});

const finite = fc.integer({ min: -100_000, max: 100_000 }).map((hundredths) => hundredths / 100);
const cloud = fc
  .array(fc.record({ x: fc.integer({ min: -500, max: 500 }), y: finite }), { minLength: 4, maxLength: 30 })
  .filter((points) => new Set(points.map(({ x }) => x)).size >= 4);

describe('against registry libraries', () => {
  it('gives the straight line of simple-statistics', () => {
    fc.assert(
      fc.property(cloud, (points) => {
        const pairs = points.map(({ x, y }) => [x, y]);
        const { m, b } = linearRegression(pairs);
        const fit = linearFit({ x: points.map(({ x }) => x), y: points.map(({ y }) => y) });
        expect(fit.coefficients[0]).toBeCloseTo(b, 5);
        expect(fit.coefficients[1]).toBeCloseTo(m, 7);
        if (new Set(points.map(({ y }) => y)).size > 1) {
          expect(fit.rSquared).toBeCloseTo(
            rSquared(pairs, (x) => m * x + b),
            6,
          );
        }
      }),
    );
  });

  it('gives the cubic of ml-matrix', () => {
    fc.assert(
      fc.property(cloud, (points) => {
        const x = points.map((point) => point.x / 500);
        const y = points.map((point) => point.y);
        const design = new Matrix(x.map((value) => [1, value, value ** 2, value ** 3]));
        const theirs = new QrDecomposition(design).solve(Matrix.columnVector(y)).to1DArray();
        const ours = linearFit({ x, y, degree: 3 }).coefficients;
        const scale = Math.max(...theirs.map(Math.abs), 1);
        for (const [k, value] of ours.entries())
          expect((value - (theirs[k] ?? NaN)) / scale).toBeCloseTo(0, 6);
      }),
    );
  });
});

describe('properties', () => {
  it('finds a line it is given exactly', () => {
    fc.assert(
      fc.property(cloud, finite, finite, (points, offset, slope) => {
        const x = points.map((point) => point.x);
        const fit = linearFit({ x, y: x.map((value) => offset + slope * value) });
        expect(fit.coefficients[0]).toBeCloseTo(offset, 6);
        expect(fit.coefficients[1]).toBeCloseTo(slope, 8);
      }),
    );
  });

  it('leaves residuals at right angles to a constant and to x', () => {
    fc.assert(
      fc.property(cloud, (points) => {
        const x = points.map((point) => point.x);
        const { residuals } = linearFit({ x, y: points.map((point) => point.y) });
        expect(residuals.reduce((total, value) => total + value, 0)).toBeCloseTo(0, 6);
        expect(residuals.reduce((total, value, i) => total + value * (x[i] ?? NaN), 0) / 500).toBeCloseTo(
          0,
          6,
        );
      }),
    );
  });
});

describe('limits', () => {
  it('says when nothing is left to estimate the uncertainty from', () => {
    const fit = linearFit({ x: [1, 2], y: [3, 5] });
    expect(fit.coefficients[0]).toBeCloseTo(1, 12);
    expect(fit).toMatchObject({ standardErrors: null, covariance: null, residualStandardDeviation: null });
    expect(fit.flags).toEqual([expect.stringContaining('nothing left')]);
  });

  it('explains a constant entirely', () => {
    expect(linearFit({ x: [1, 2, 3], y: [4, 4, 4] }).rSquared).toBe(1);
  });

  it.each([
    ['x without spread', { x: [2, 2, 2], y: [1, 2, 3] }, { code: 'impossible', argument: 'x' }],
    [
      'x all zero through the origin',
      { x: [0, 0], y: [1, 2], intercept: false },
      { code: 'impossible', argument: 'x' },
    ],
    ['fewer points than coefficients', { x: [1], y: [1] }, { code: 'malformed', argument: 'x' }],
    ['lists of different length', { x: [1, 2, 3], y: [1, 2] }, { code: 'malformed', argument: 'y' }],
    [
      'a value that is not a number',
      { x: [1, 2, 3], y: [1, NaN, 2] },
      { code: 'not-finite', argument: 'y[1]' },
    ],
    ['degree 0', { x: [1, 2], y: [1, 2], degree: 0 }, { code: 'out-of-range', argument: 'degree' }],
    ['degree 9', { x: [1, 2], y: [1, 2], degree: 9 }, { code: 'out-of-range', argument: 'degree' }],
  ])('refuses %s', (_, input, fault) => {
    expect(() => linearFit(input)).toThrow(expect.objectContaining({ name: 'CalcError', ...fault }));
  });
});
