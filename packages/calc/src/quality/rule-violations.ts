import { checkName, checkNumber } from '../check.ts';
import { checkSeries } from '../numeric/summation.ts';
import { checkRestarts } from './chart-input.ts';
import {
  CHART_RULES,
  type ChartRuleName,
  NELSON_RULES,
  ruleHolds,
  WESTERN_ELECTRIC_RULES,
} from './chart-rules.ts';

export interface RuleViolation {
  rule: ChartRuleName;
  /** Place (from 0) of the last point of the pattern, which itself takes part in it. */
  place: number;
  /** Place of the first point looked at. */
  from: number;
  meaning: string;
  source: string;
}

/**
 * Patterns on a control chart that speak for a special cause. "Beyond" is strict; a point exactly on the centre ends a run
 * on one side; equal neighbours end a trend and an alternation; no pattern spans one of the `restarts` (places from 0 at
 * which a new run begins, after a known addition for instance).
 *
 * `centre` and `sigma` have the unit of the values. `rules` are the eight Nelson tests unless given; `W1` to `W4` are those
 * of Western Electric. With sigma 0 only points off the centre can be part of a pattern.
 * Source: Nelson 1984; Western Electric 1956 (each result names its own).
 * Errors: `malformed`, `not-finite`, `out-of-range`; `unknown` for a rule.
 *
 * @example
 * ruleViolations({ values: [20.1, 21.8, 20.3, 21.2, 21.3], centre: 20, sigma: 0.5, rules: ['N1', 'N5'] })
 * // [{ rule: 'N1', place: 1 }, { rule: 'N5', place: 3 }, { rule: 'N5', place: 4 }]
 */
export function ruleViolations(input: {
  values: readonly number[];
  centre: number;
  sigma: number;
  rules?: readonly ChartRuleName[];
  restarts?: readonly number[];
}): RuleViolation[] {
  const values = checkSeries('values', input.values, 1);
  const centre = checkNumber('centre', input.centre);
  const sigma = checkNumber('sigma', input.sigma, { min: 0 });
  const known = [...NELSON_RULES, ...WESTERN_ELECTRIC_RULES];
  const rules = (input.rules ?? NELSON_RULES).map((rule, i) => checkName(`rules[${i}]`, rule, known));
  const restarts = checkRestarts(input.restarts, values.length);

  const sigmas = values.map((value) => inSigmas(value - centre, sigma));
  let start = 0;
  return sigmas.flatMap((_, index) => {
    if (restarts.has(index)) start = index;
    const run = sigmas.slice(Math.max(start, index + 1 - LONGEST_SPAN), index + 1);
    return rules
      .filter((rule) => ruleHolds(rule, run))
      .map((rule) => {
        const { meaning, source, span } = CHART_RULES[rule];
        return { rule, place: index, from: Math.max(start, index + 1 - span), meaning, source };
      });
  });
}

const LONGEST_SPAN = Math.max(...Object.values(CHART_RULES).map(({ span }) => span));

/** To nine decimals, so that a value on a limit is not pushed beyond it by rounding; NaN for 0 / 0 joins no pattern. */
const inSigmas = (deviation: number, sigma: number): number => {
  const exact = deviation / sigma;
  return Number.isFinite(exact) ? Math.round(exact * 1e9) / 1e9 : exact;
};
