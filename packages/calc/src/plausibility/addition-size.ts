import { checkFinite, checkNumber } from '../check.ts';

/**
 * How large an addition is beside the bath, and whether a second analysis must stand behind it: a slipped decimal point asks
 * for half a bath of flake, and is found by titrating again.
 *
 * Valid for bathKg above 0, stockKg 0 and up, mostShare above 0. Source: common practice, no source; a tenth by default.
 * Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * additionSize({ stockKg: 169, bathKg: 290 }) // { share: 0.5828, needsSecondAnalysis: true }
 */
export function additionSize(input: { stockKg: number; bathKg: number; mostShare?: number }): {
  share: number;
  needsSecondAnalysis: boolean;
} {
  const stockKg = checkNumber('stockKg', input.stockKg, { min: 0 });
  const bathKg = checkNumber('bathKg', input.bathKg, { above: 0 });
  const mostShare = checkNumber('mostShare', input.mostShare ?? 0.1, { above: 0 });
  const share = stockKg / bathKg;
  return { share, needsSecondAnalysis: share > mostShare };
}

/** Beside what their uncertainties explain, two analyses of one bath may differ by this. Common practice, no source. */
const sameWithin = 0.03;

/**
 * Whether two analyses found the same bath: within two standard uncertainties of their difference and 3 % of it.
 *
 * Valid for any two figures of one unit. Source: coverage factor 2; 3 % is common practice, no source. Errors: `not-finite`.
 *
 * @example
 * analysesAgree({ value: 0.071, standardUncertainty: 0.0025 }, { value: 0.4976, standardUncertainty: 0.002 }) // false
 */
export function analysesAgree(
  one: { value: number; standardUncertainty: number | null },
  other: { value: number; standardUncertainty: number | null },
): boolean {
  checkFinite('one', one);
  checkFinite('other', other);
  const reach = 2 * Math.hypot(one.standardUncertainty ?? 0, other.standardUncertainty ?? 0);
  const slack = sameWithin * Math.max(Math.abs(one.value), Math.abs(other.value));
  return Math.abs(one.value - other.value) <= reach + slack;
}

/**
 * Whether an addition of this size must wait for a second analysis; null when it need not. Otherwise its share of the bath,
 * and what there is: no analysis since the last addition, one alone, two that found different baths, or two that agree on
 * another strength than the plan starts from.
 *
 * Ranges, source and errors: {@link additionSize}, {@link analysesAgree}.
 *
 * @example
 * secondAnalysis({ stockKg: 169, bathKg: 290, analyses: [{ value: 0.071, standardUncertainty: 0.0025 }] })
 * // { share: 0.5828, have: 'one' }
 */
export function secondAnalysis(input: {
  stockKg: number;
  bathKg: number;
  mostShare?: number | undefined;
  /** Strengths found since the last addition, newest first; the mass fraction where it is known. */
  analyses: readonly { value: number; standardUncertainty: number | null; massFraction?: number | null }[];
  /** The strength that the plan starts from, as a mass fraction; null where it starts from none. */
  startMassFraction?: number | null;
}): { share: number; have: 'none' | 'one' | 'two-that-differ' | 'another-start' } | null {
  checkFinite('', input);
  const { stockKg, bathKg, mostShare, analyses } = input;
  const size = additionSize({ stockKg, bathKg, ...(mostShare === undefined ? {} : { mostShare }) });
  const [last, before] = analyses;
  if (!size.needsSecondAnalysis) return null;
  const { share } = size;
  if (!last) return { share, have: 'none' };
  if (!before) return { share, have: 'one' };
  if (!analysesAgree(last, before)) return { share, have: 'two-that-differ' };
  const [start, found] = [input.startMassFraction ?? null, last.massFraction ?? null];
  const starts = (value: number) => ({ value, standardUncertainty: null });
  return start === null || found === null || analysesAgree(starts(start), starts(found))
    ? null
    : { share, have: 'another-start' };
}
