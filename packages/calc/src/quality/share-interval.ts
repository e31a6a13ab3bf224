import { checkWhole } from '../check.ts';

/** Two-sided 95 % of the standard normal distribution. */
const Z = 1.959963984540054;

/**
 * The share of so many pieces out of all, with the score interval that holds the true share in about 95 of 100 such counts. Both are
 * fractions of 1. Pieces are taken as independent: pieces of one lot that fail together spread more than it says.
 *
 * Source: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927) 209; preferred for small counts by R. G. Newcombe, Stat. Med. 17 (1998) 857.
 * Valid for 1 piece and more in all. Errors: `not-finite`, `out-of-range`.
 *
 * @example
 * shareInterval({ count: 15, total: 148 }) // { share: 0.1014, low: 0.0624, high: 0.1605 }
 */
export function shareInterval(input: { count: number; total: number }): {
  share: number;
  low: number;
  high: number;
} {
  const total = checkWhole('total', input.total, { min: 1, max: 1e9 });
  const count = checkWhole('count', input.count, { min: 0, max: total });
  const share = count / total;
  const middle = share + (Z * Z) / (2 * total);
  const half = Z * Math.sqrt((share * (1 - share)) / total + (Z * Z) / (4 * total * total));
  const scale = 1 + (Z * Z) / total;
  return {
    share,
    low: count === 0 ? 0 : (middle - half) / scale,
    high: count === total ? 1 : (middle + half) / scale,
  };
}
