import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupedBy, readCsv } from '../../reference/csv.ts';
import { agreeingDigits } from '../../reference/agreeing-digits.ts';
import { nonlinearFit } from './nonlinear-fit.ts';

const certified = groupedBy('dataset', readCsv('numeric/strd_nonlinear_certified.csv'));
const observations = groupedBy('dataset', readCsv('numeric/strd_nonlinear_data.csv'));

type Model = (x: number, b: readonly number[]) => number;

const cubicOverCubic: Model = (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0, b6 = 0, b7 = 0]) =>
  (b1 + b2 * x + b3 * x ** 2 + b4 * x ** 3) / (1 + b5 * x + b6 * x ** 2 + b7 * x ** 3);

const models: Record<string, Model> = {
  Misra1a: (x, [b1 = 0, b2 = 0]) => b1 * (1 - Math.exp(-b2 * x)),
  Misra1b: (x, [b1 = 0, b2 = 0]) => b1 * (1 - (1 + (b2 * x) / 2) ** -2),
  Misra1c: (x, [b1 = 0, b2 = 0]) => b1 * (1 - (1 + 2 * b2 * x) ** -0.5),
  Misra1d: (x, [b1 = 0, b2 = 0]) => (b1 * b2 * x) / (1 + b2 * x),
  Chwirut2: (x, [b1 = 0, b2 = 0, b3 = 0]) => Math.exp(-b1 * x) / (b2 + b3 * x),
  DanWood: (x, [b1 = 0, b2 = 0]) => b1 * x ** b2,
  BoxBOD: (x, [b1 = 0, b2 = 0]) => b1 * (1 - Math.exp(-b2 * x)),
  Kirby2: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0]) =>
    (b1 + b2 * x + b3 * x ** 2) / (1 + b4 * x + b5 * x ** 2),
  Hahn1: cubicOverCubic,
  Thurber: cubicOverCubic,
  MGH17: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0, b5 = 0]) =>
    b1 + b2 * Math.exp(-x * b4) + b3 * Math.exp(-x * b5),
  MGH09: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0]) => (b1 * (x ** 2 + x * b2)) / (x ** 2 + x * b3 + b4),
  MGH10: (x, [b1 = 0, b2 = 0, b3 = 0]) => b1 * Math.exp(b2 / (x + b3)),
  Rat42: (x, [b1 = 0, b2 = 0, b3 = 0]) => b1 / (1 + Math.exp(b2 - b3 * x)),
  Rat43: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0]) => b1 / (1 + Math.exp(b2 - b3 * x)) ** (1 / b4),
  Eckerle4: (x, [b1 = 0, b2 = 0, b3 = 0]) => (b1 / b2) * Math.exp(-0.5 * ((x - b3) / b2) ** 2),
  Roszman1: (x, [b1 = 0, b2 = 0, b3 = 0, b4 = 0]) => b1 - b2 * x - Math.atan(b3 / (x - b4)) / Math.PI,
  Bennett5: (x, [b1 = 0, b2 = 0, b3 = 0]) => b1 * (b2 + x) ** (-1 / b3),
};

/** Fits one set and returns the agreement of its worst figure, in decimal digits. */
function score(dataset: string, start: 'start1' | 'start2') {
  const rows = certified.get(dataset) ?? [];
  const parameters = rows.filter((row) => /^b\d$/.test(row['quantity'] ?? ''));
  const figure = (quantity: string) => Number(rows.find((row) => row['quantity'] === quantity)?.['value']);
  const points = observations.get(dataset) ?? [];
  const fit = nonlinearFit({
    model: models[dataset] ?? (() => NaN),
    x: points.map((row) => Number(row['x'])),
    y: points.map((row) => Number(row['y'])),
    start: parameters.map((row) => Number(row[start])),
    maxIterations: 10_000,
  });
  const worst = (found: readonly number[] | null, column: string) =>
    Math.min(...parameters.map((row, k) => agreeingDigits(found?.[k], Number(row[column]))));
  return {
    fit,
    parameters: worst(fit.parameters, 'value'),
    standardErrors: worst(fit.standardErrors, 'sd'),
    residualSum: agreeingDigits(fit.residualSumOfSquares, figure('residual_ss')),
    residualSd: agreeingDigits(fit.residualStandardDeviation, figure('residual_sd')),
    degreesOfFreedom: figure('df_residual'),
  };
}

/** From 1, NIST's far starts, one set is out of reach: see the test below. */
const cases = Object.keys(models).flatMap((dataset) => [
  ...(dataset === 'BoxBOD' ? [] : [{ dataset, start: 'start1' as const }]),
  { dataset, start: 'start2' as const },
]);

describe('NIST Statistical Reference Datasets, nonlinear regression', () => {
  it('covers every set', () => {
    expect(Object.keys(models).sort()).toEqual([...certified.keys()].sort());
  });

  it.each(cases)(
    '$dataset from $start',
    ({ dataset, start }) => {
      const result = score(dataset, start);
      expect(result.fit.converged).toBe(true);
      expect(result.fit.flags).toEqual([]);
      expect(result.fit.degreesOfFreedom).toBe(result.degreesOfFreedom);
      expect(result.parameters).toBeGreaterThan(7);
      // The relative difference step is coarse for a peak far from zero (Eckerle4), which costs its errors some digits.
      expect(result.standardErrors).toBeGreaterThan(5);
      expect(result.residualSum).toBeGreaterThan(10);
      expect(result.residualSd).toBeGreaterThan(10);
    },
    60_000,
  );

  it('BoxBOD from start1 runs into a flat region and says so', () => {
    const { fit } = score('BoxBOD', 'start1');
    expect(fit.standardErrors).toBeNull();
    expect(fit.flags).toContain('the points cannot tell the parameters apart');
  });
});

describe('properties', () => {
  it('recovers saturating growth it is given exactly', () => {
    const model: Model = (x, [limit = 0, rate = 0]) => limit * (1 - Math.exp(-rate * x));
    const truth = fc.record({
      limit: fc.double({ min: 20, max: 500, noNaN: true }),
      rate: fc.double({ min: 0.01, max: 0.1, noNaN: true }),
    });
    fc.assert(
      fc.property(truth, ({ limit, rate }) => {
        const x = [5, 10, 20, 40, 60, 80];
        const y = x.map((value) => model(value, [limit, rate]));
        const fit = nonlinearFit({ model, x, y, start: [100, 0.03] });
        expect(agreeingDigits(fit.parameters[0], limit)).toBeGreaterThan(6);
        expect(agreeingDigits(fit.parameters[1], rate)).toBeGreaterThan(6);
      }),
    );
  });
});

describe('limits', () => {
  const line: Model = (x, [a = 0, b = 0]) => a + b * x;

  it('stops at the iteration limit and says so', () => {
    const fit = nonlinearFit({
      model: (x, [a = 0]) => Math.exp(a * x),
      x: [1, 2, 3],
      y: [2, 4, 8],
      start: [6],
      maxIterations: 1,
    });
    expect(fit).toMatchObject({ iterations: 1, converged: false });
    expect(fit.flags).toEqual([expect.stringContaining('not converged')]);
  });

  it('steps back from where the model is undefined', () => {
    const model: Model = (x, [a = 0]) => Math.sqrt(a) * x;
    const fit = nonlinearFit({ model, x: [1, 2, 3], y: [0.1, 0.2, 0.3], start: [100] });
    expect(fit.parameters[0]).toBeCloseTo(0.01, 9);
  });

  it('gives no standard errors when no degree of freedom is left', () => {
    const fit = nonlinearFit({ model: line, x: [1, 2], y: [3, 5], start: [0, 0] });
    expect(fit.parameters[0]).toBeCloseTo(1, 9);
    expect(fit).toMatchObject({ standardErrors: null, residualStandardDeviation: null });
  });

  it.each([
    [
      'a model undefined at the start',
      { model: () => NaN, x: [1, 2], y: [1, 2], start: [0] },
      { code: 'impossible', argument: 'start' },
    ],
    [
      'fewer points than parameters',
      { model: line, x: [1], y: [1], start: [0, 0] },
      { code: 'malformed', argument: 'x' },
    ],
    ['no parameter', { model: line, x: [1], y: [1], start: [] }, { code: 'malformed', argument: 'start' }],
    [
      'an infinite start',
      { model: line, x: [1, 2], y: [1, 2], start: [Infinity, 0] },
      { code: 'not-finite', argument: 'start[0]' },
    ],
    [
      'no iterations',
      { model: line, x: [1, 2], y: [1, 2], start: [0, 0], maxIterations: 0 },
      { code: 'out-of-range', argument: 'maxIterations' },
    ],
  ])('refuses %s', (_, input, fault) => {
    expect(() => nonlinearFit(input)).toThrow(expect.objectContaining({ name: 'CalcError', ...fault }));
  });
});
