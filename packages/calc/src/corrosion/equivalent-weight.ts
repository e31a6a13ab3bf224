import { checkName, checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type DissolvingMetal, dissolvingMetals } from './data/equivalent-weights.ts';

/**
 * Equivalent weight of a metal or alloy in g per mole of electrons. Elements below 1 % are usually left out; the
 * fractions given are brought to a sum of one.
 *
 * Mass fractions above 0 to 1 that sum to 0.9 to 1; `valence` 1 to 8 where it is not the customary one: Fe 2, Ti
 * 4, Nb 5, Ta 5, Zr 4, Al 3, Cu 2, Ni 2, Zn 2, Cr 3, Co 2, Mg 2, Mo 3.
 * Source: ASTM G102, EW = 1/sum(f n/W).
 * Errors: `unknown` element, `impossible` sum, `out-of-range` or `not-finite`.
 *
 * @example
 * equivalentWeight({
 *   composition: [
 *     { element: 'Cr', massFraction: 0.19 },
 *     { element: 'Ni', massFraction: 0.0925 },
 *     { element: 'Fe', massFraction: 0.7175 },
 *   ],
 * })
 * // 25.1190
 */
export function equivalentWeight({
  composition,
}: {
  composition: readonly { element: DissolvingMetal; massFraction: number; valence?: number }[];
}): number {
  let sum = 0;
  let equivalents = 0;
  for (const given of composition) {
    const element = checkName('element', given.element, Object.keys(dissolvingMetals) as DissolvingMetal[]);
    const { atomicMass, valence: customary } = dissolvingMetals[element];
    const massFraction = checkNumber('massFraction', given.massFraction, { above: 0, max: 1 });
    const valence = checkNumber('valence', given.valence ?? customary, { min: 1, max: 8 });
    sum += massFraction;
    equivalents += (massFraction * valence) / atomicMass;
  }
  if (sum < 0.9 || sum > 1 + 1e-9) {
    throw new CalcError({
      code: 'impossible',
      argument: 'composition',
      given: `mass fractions that sum to ${sum}`,
      allowed: 'a sum of 0.9 to 1',
    });
  }
  return sum / equivalents;
}
