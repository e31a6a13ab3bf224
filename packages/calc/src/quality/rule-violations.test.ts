import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { groupedBy, readCsv } from '../../reference/csv.ts';
import { CHART_RULES, type ChartRuleName, NELSON_RULES, WESTERN_ELECTRIC_RULES } from './chart-rules.ts';
import { ruleViolations } from './rule-violations.ts';

const series = groupedBy('series', readCsv('quality/spc_rule_series.csv'));

// Nelson 1984 and Western Electric 1956; eleven short series worked by hand, every rule against every series.
describe('rule series', () => {
  it.each(readCsv('quality/spc_rule_expected.csv'))('$series, rule $rule', (row) => {
    const points = series.get(row['series'] ?? '') ?? [];
    expect(points.length).toBeGreaterThan(0);
    const found = ruleViolations({
      values: points.map((point) => Number(point['x'])),
      centre: Number(points[0]?.['center']),
      sigma: Number(points[0]?.['sigma']),
      rules: [row['rule'] as ChartRuleName],
    });
    expect(found.map(({ place }) => place + 1).join(' ')).toBe(row['indices_flagged']);
  });
});

const at = (sigmas: readonly number[], rules: ChartRuleName[], restarts: number[] = []) =>
  ruleViolations({ values: sigmas, centre: 0, sigma: 1, rules, restarts }).map(({ place }) => place);

type Case = [name: string, sigmas: number[], rule: ChartRuleName, places: number[]];

const repeat = (count: number, value: (i: number) => number) =>
  Array.from({ length: count }, (_, i) => value(i));

describe('where a pattern begins and ends', () => {
  it.each([
    ['N1 on the limit is not beyond', [3, -3], 'N1', []],
    ['N1 both sides', [3.01, -3.01], 'N1', [0, 1]],
    ['N2 eight are not enough', repeat(8, () => 1), 'N2', []],
    ['N2 nine below', repeat(9, () => -1), 'N2', [8]],
    ['N2 the centre ends a run', [...repeat(5, () => 1), 0, ...repeat(5, () => 1)], 'N2', []],
    ['W4 eight', repeat(8, () => 1), 'W4', [7]],
    ['N3 five rising', repeat(5, (i) => i / 10), 'N3', []],
    ['N3 six falling', repeat(6, (i) => -i / 10), 'N3', [5]],
    ['N3 a tie ends a trend', [0.1, 0.2, 0.3, 0.3, 0.4, 0.5, 0.6], 'N3', []],
    ['N4 thirteen alternating', repeat(13, (i) => (i % 2 ? 0.5 : -0.5)), 'N4', []],
    ['N4 fourteen alternating', repeat(14, (i) => (i % 2 ? 0.5 : -0.5)), 'N4', [13]],
    ['N4 fourteen alternating, first step down', repeat(14, (i) => (i % 2 ? -0.5 : 0.5)), 'N4', [13]],
    ['N5 the first two of three', [2.1, 2.1], 'N5', [1]],
    ['N5 opposite sides', [2.1, -2.1, 0], 'N5', []],
    ['N5 the last point must take part', [2.1, 2.1, 0], 'N5', [1]],
    ['N5 on 2 sigma is not beyond', [2, 2, 2], 'N5', []],
    ['N5 four apart', [2.1, 0, 0, 2.1], 'N5', []],
    ['N6 three of four', [1.1, 1.1, 1.1, 0], 'N6', []],
    ['N6 four of five', [1.1, 0, 1.1, 1.1, 1.1], 'N6', [4]],
    ['N6 on the other side', [-1.1, -1.1, -1.1, -1.1], 'N6', [3]],
    ['N7 fourteen', repeat(14, () => 0.1), 'N7', []],
    ['N7 fifteen', repeat(15, (i) => (i % 2 ? 0.9 : -0.9)), 'N7', [14]],
    ['N7 on 1 sigma is not within', repeat(15, (i) => (i % 2 ? 1 : -0.5)), 'N7', []],
    ['N8 seven', repeat(7, (i) => (i % 2 ? 1.1 : -1.1)), 'N8', []],
    ['N8 eight', repeat(8, (i) => (i % 2 ? 1.1 : -1.1)), 'N8', [7]],
    ['N8 on 1 sigma is not outside', repeat(8, (i) => (i % 2 ? 1 : -1.1)), 'N8', []],
  ] as Case[])('%s', (...[, sigmas, rule, places]) => {
    expect(at(sigmas, [rule])).toEqual(places);
  });

  it('spans no restart', () => {
    const rising = repeat(6, (i) => i / 10);
    expect(at(rising, ['N3'], [0])).toEqual([5]);
    expect(at(rising, ['N3'], [3])).toEqual([]);
    expect(at([2.1, 2.1], ['N5'], [1])).toEqual([]);
  });

  it('says which test of which source it is, and where the pattern lies', () => {
    const found = ruleViolations({ values: repeat(9, () => 5.5), centre: 5, sigma: 1, rules: ['W4'] });
    expect(found).toEqual(
      [
        { rule: 'W4', place: 7, from: 0, ...CHART_RULES.W4 },
        { rule: 'W4', place: 8, from: 1, ...CHART_RULES.W4 },
      ].map(({ rule, place, from, meaning, source }) => ({ rule, place, from, meaning, source })),
    );
    expect(CHART_RULES.W4.source).toMatch(/^Western Electric.*test 4$/);
    for (const [number, rule] of NELSON_RULES.entries()) {
      expect(CHART_RULES[rule].source).toBe(
        `Nelson, J. Quality Technology 16, 1984, 237, test ${number + 1}`,
      );
    }
  });

  it('is not deceived by rounding on a limit', () => {
    // 28.3 - 28 is 0.3000000000000007.
    expect(ruleViolations({ values: [28.3, 27.7], centre: 28, sigma: 0.1, rules: ['N1'] })).toEqual([]);
  });

  it('with sigma 0 flags only what is off the centre', () => {
    const values = [...repeat(20, () => 5), 6];
    expect(ruleViolations({ values, centre: 5, sigma: 0 }).map(({ rule, place }) => [rule, place])).toEqual([
      ['N1', 20],
    ]);
  });
});

describe('properties', () => {
  const sigmas = fc.array(
    fc.integer({ min: -40, max: 40 }).map((tenths) => tenths / 10),
    { minLength: 1, maxLength: 40 },
  );

  it('turning the chart upside down changes nothing', () => {
    fc.assert(
      fc.property(sigmas, (values) => {
        const upsideDown = values.map((value) => -value);
        expect(ruleViolations({ values: upsideDown, centre: 0, sigma: 1 })).toEqual(
          ruleViolations({ values, centre: 0, sigma: 1 }),
        );
      }),
    );
  });

  it('the Western Electric tests 1 to 3 are Nelson 1, 5 and 6', () => {
    fc.assert(
      fc.property(sigmas, (values) => {
        expect(at(values, ['W1'])).toEqual(at(values, ['N1']));
        expect(at(values, ['W2'])).toEqual(at(values, ['N5']));
        expect(at(values, ['W3'])).toEqual(at(values, ['N6']));
        expect(at(values, ['W4'])).toEqual(expect.arrayContaining(at(values, ['N2'])));
      }),
    );
  });

  it('a restart never adds a violation', () => {
    fc.assert(
      fc.property(sigmas, fc.nat(), (values, any) => {
        const all = [...NELSON_RULES, ...WESTERN_ELECTRIC_RULES];
        const key = (restarts: number[]) =>
          ruleViolations({ values, centre: 0, sigma: 1, rules: all, restarts }).map(
            ({ rule, place }) => `${rule} ${place}`,
          );
        expect(key([])).toEqual(expect.arrayContaining(key([any % values.length])));
      }),
    );
  });
});

describe('limits', () => {
  it.each([
    [{ values: [] }, 'values'],
    [{ sigma: -1 }, 'sigma'],
    [{ centre: NaN }, 'centre'],
    [{ rules: ['N1', 'N9' as 'N1'] as ChartRuleName[] }, 'rules[1]'],
    [{ restarts: [1] }, 'restarts[0]'],
  ])('refuses %o', (wrong, argument) => {
    const call = () => ruleViolations({ values: [1], centre: 0, sigma: 1, ...wrong });
    expect(call).toThrow(expect.objectContaining({ name: 'CalcError', argument }));
  });
});
