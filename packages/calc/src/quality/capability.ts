import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

export interface Capability {
  /** Null where a one-sided tolerance leaves nothing to compare, or where there is no index at all (see flags). */
  cp: number | null;
  cpUpper: number | null;
  cpLower: number | null;
  cpk: number | null;
  /** Distance of the mean from the middle of the tolerance, in half tolerances. */
  k: number | null;
  flags: string[];
}

/**
 * Capability of a process: tolerance against its spread. With the standard deviation within subgroups (or from a moving
 * range) the indices are Cp and Cpk; with the overall standard deviation the very same figures are called Pp and Ppk, so
 * say which was used. Mean, sigma and limits share one unit; the indices have none.
 *
 * One limit may be left out; `inControl: false` gives no index, because an unstable process has no capability to state.
 * Source: NIST/SEMATECH e-Handbook of Statistical Methods (2012) 6.1.6. Valid for sigma above 0.
 * Errors: `not-finite`, `out-of-range`; `impossible` without any limit or with the lower one not below the upper.
 *
 * @example
 * capability({ mean: 16, sigma: 2, lowerLimit: 8, upperLimit: 20, inControl: true })
 * // { cp: 1, cpUpper: 0.6667, cpLower: 1.3333, cpk: 0.6667, k: 0.3333 }
 */
export function capability(input: {
  mean: number;
  sigma: number;
  lowerLimit?: number;
  upperLimit?: number;
  inControl: boolean;
}): Capability {
  const mean = checkNumber('mean', input.mean);
  const sigma = checkNumber('sigma', input.sigma, { above: 0 });
  const { lower, upper } = checkLimits(input);
  if (!input.inControl) {
    const flags = ['no index: the chart is out of control'];
    return { cp: null, cpUpper: null, cpLower: null, cpk: null, k: null, flags };
  }
  const cpUpper = upper === null ? null : (upper - mean) / (3 * sigma);
  const cpLower = lower === null ? null : (mean - lower) / (3 * sigma);
  const sides = [cpUpper, cpLower].filter((side) => side !== null);
  const twoSided =
    upper === null || lower === null
      ? { cp: null, k: null }
      : {
          cp: (upper - lower) / (6 * sigma),
          k: Math.abs((upper + lower) / 2 - mean) / ((upper - lower) / 2),
        };
  return { ...twoSided, cpUpper, cpLower, cpk: Math.min(...sides), flags: [] };
}

function checkLimits({ lowerLimit, upperLimit }: { lowerLimit?: number; upperLimit?: number }): {
  lower: number | null;
  upper: number | null;
} {
  const lower = lowerLimit === undefined ? null : checkNumber('lowerLimit', lowerLimit);
  const upper = upperLimit === undefined ? null : checkNumber('upperLimit', upperLimit);
  if (lower === null && upper === null) {
    throw new CalcError({
      code: 'impossible',
      argument: 'upperLimit',
      given: undefined,
      allowed: 'at least one of lowerLimit and upperLimit',
    });
  }
  if (lower !== null && upper !== null && lower >= upper) {
    throw new CalcError({
      code: 'impossible',
      argument: 'upperLimit',
      given: upper,
      allowed: `more than ${lower}`,
    });
  }
  return { lower, upper };
}
