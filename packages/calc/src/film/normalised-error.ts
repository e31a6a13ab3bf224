import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

/** A figure with its standard uncertainty, in one unit. */
export interface UncertainFigure {
  value: number;
  standardUncertainty: number;
}

/** `doubtful` asks for a look at both methods; one of two that `disagree` is wrong, or claims too little uncertainty. */
export type Agreement = 'agree' | 'doubtful' | 'disagree';

/**
 * Whether two independent figures of one thing agree within their uncertainties: the difference over the standard uncertainty of the
 * difference (zeta score), and over its expanded uncertainty (normalised error, k = 2), which is half of that.
 *
 * Up to 2 (normalised error 1) they agree, up to 3 it is doubtful, from there they disagree. Agreement of two wide intervals says
 * little. Uncertainties 0 or more, in the unit of the values, not both 0.
 * Source: ISO 13528:2022, zeta and En scores; ISO/IEC 17043 names both (clauses from memory).
 * Errors: `not-finite`, `out-of-range`; `impossible` where neither has an uncertainty.
 *
 * @example
 * normalisedError({ one: { value: 220, standardUncertainty: 8 }, other: { value: 190, standardUncertainty: 6 } })
 * // { difference: 30, zeta: 3, normalisedError: 1.5, agreement: 'disagree' }
 */
export function normalisedError({ one, other }: { one: UncertainFigure; other: UncertainFigure }): {
  /** One less the other. */
  difference: number;
  zeta: number;
  normalisedError: number;
  agreement: Agreement;
} {
  const figureOf = (argument: string, { value, standardUncertainty }: UncertainFigure) => ({
    value: checkNumber(`${argument}.value`, value),
    u: checkNumber(`${argument}.standardUncertainty`, standardUncertainty, { min: 0 }),
  });
  const [a, b] = [figureOf('one', one), figureOf('other', other)];
  const u = Math.hypot(a.u, b.u);
  if (u === 0) {
    throw new CalcError({
      ...{ code: 'impossible', argument: 'one.standardUncertainty', given: 0 },
      allowed: 'more than 0 for one of the two',
    });
  }
  const difference = a.value - b.value;
  const zeta = difference / u;
  const size = Math.abs(zeta);
  return {
    ...{ difference, zeta, normalisedError: zeta / 2 },
    agreement: size <= 2 ? 'agree' : size < 3 ? 'doubtful' : 'disagree',
  };
}
