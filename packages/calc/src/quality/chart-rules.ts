/** Deviations from the centre in sigmas, oldest first; the rule looks at them as one window. */
type Window = readonly number[];

interface ChartRule {
  source: string;
  meaning: string;
  /** Points the pattern takes. */
  span: number;
  /** The pattern may already be complete in a shorter window at the start of a run. */
  early?: boolean;
  holds: (window: Window) => boolean;
}

const differences = (window: Window): number[] =>
  window.slice(1).map((value, i) => value - (window[i] ?? NaN));

const oneSide = (values: Window): boolean =>
  values.every((value) => value > 0) || values.every((value) => value < 0);

const alternating = (values: Window): boolean => oneSide(values.map((value, i) => (i % 2 ? -value : value)));

/** At least `count` beyond so many sigmas on the side of the last point, which is one of them. */
const beyondWith = (rule: { count: number; sigmas: number }) => (window: Window) => {
  const last = window.at(-1) ?? 0;
  const reach = (value: number) => value * Math.sign(last) > rule.sigmas;
  return reach(last) && window.filter(reach).length >= rule.count;
};

const beyondThree: Pick<ChartRule, 'span' | 'holds'> = {
  span: 1,
  holds: beyondWith({ count: 1, sigmas: 3 }),
};
const twoOfThree = { span: 3, early: true, holds: beyondWith({ count: 2, sigmas: 2 }) };
const fourOfFive = { span: 5, early: true, holds: beyondWith({ count: 4, sigmas: 1 }) };

const nelson = (test: number): string => `Nelson, J. Quality Technology 16, 1984, 237, test ${test}`;
const westernElectric = (test: number): string =>
  `Western Electric, Statistical Quality Control Handbook, 1956, test ${test}`;

/**
 * Tests for special causes on a control chart, each under the number its source gives it. N stands for Nelson, W for
 * Western Electric. Evidence P for the Nelson tests, from memory for Western Electric, agreeing with restatements.
 */
export const CHART_RULES = {
  N1: { source: nelson(1), meaning: 'one point beyond 3 sigma', ...beyondThree },
  N2: { source: nelson(2), meaning: '9 points in a row on one side of the centre', span: 9, holds: oneSide },
  N3: {
    source: nelson(3),
    meaning: '6 points in a row steadily rising or falling',
    span: 6,
    holds: (window) => oneSide(differences(window)),
  },
  N4: {
    source: nelson(4),
    meaning: '14 points in a row alternating up and down',
    span: 14,
    holds: (window) => alternating(differences(window)),
  },
  N5: { source: nelson(5), meaning: '2 of 3 points beyond 2 sigma on the same side', ...twoOfThree },
  N6: { source: nelson(6), meaning: '4 of 5 points beyond 1 sigma on the same side', ...fourOfFive },
  N7: {
    source: nelson(7),
    meaning: '15 points in a row within 1 sigma',
    span: 15,
    holds: (window) => window.every((value) => Math.abs(value) < 1),
  },
  N8: {
    source: nelson(8),
    meaning: '8 points in a row all outside 1 sigma, on either side',
    span: 8,
    holds: (window) => window.every((value) => Math.abs(value) > 1),
  },
  W1: { source: westernElectric(1), meaning: 'one point beyond 3 sigma', ...beyondThree },
  W2: { source: westernElectric(2), meaning: '2 of 3 points beyond 2 sigma on the same side', ...twoOfThree },
  W3: { source: westernElectric(3), meaning: '4 of 5 points beyond 1 sigma on the same side', ...fourOfFive },
  W4: {
    source: westernElectric(4),
    meaning: '8 points in a row on one side of the centre',
    span: 8,
    holds: oneSide,
  },
} as const satisfies Record<string, ChartRule>;

export type ChartRuleName = keyof typeof CHART_RULES;

export const NELSON_RULES = ['N1', 'N2', 'N3', 'N4', 'N5', 'N6', 'N7', 'N8'] as const;
export const WESTERN_ELECTRIC_RULES = ['W1', 'W2', 'W3', 'W4'] as const;

/** Whether the pattern ends at the last point of `run`, which holds points since the last restart. */
export function ruleHolds(name: ChartRuleName, run: readonly number[]): boolean {
  const rule: ChartRule = CHART_RULES[name];
  return (run.length >= rule.span || rule.early === true) && rule.holds(run.slice(-rule.span));
}
