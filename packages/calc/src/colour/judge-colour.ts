import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type JudgedConformity, judgeConformity } from '../quality/judge-conformity.ts';
import type { Lab } from './colour-types.ts';
import { type DeltaEFactors, deltaE2000 } from './delta-e.ts';
import { checkLab } from './lab.ts';

/** What a colour was agreed to be: a target with a tolerance, ends on its light and dark side, or both. */
export interface ColourTarget {
  target: Lab;
  /** Largest dE00 that still passes; null where only the ends bound the colour. */
  tolerance: number | null;
  light: Lab | null;
  dark: Lab | null;
  factors?: DeltaEFactors;
}

export interface JudgedColour extends JudgedConformity {
  deltaE: number;
  /** Reading less target: above 0 is lighter, redder, yellower. */
  dL: number;
  da: number;
  db: number;
  /** The dE00 it was judged against, and what set it. */
  limit: number;
  limitedBy: 'tolerance' | 'light end' | 'dark end';
}

/**
 * Judges a reading against an agreed colour with a guard band, as {@link judgeConformity} does. A reading lighter than the
 * target may be as far from it as the light end is, a darker one as far as the dark end; without an end on its side, and
 * where the tolerance is narrower, the tolerance is the limit. Reading and target must be of one illuminant and observer.
 *
 * Valid for L from 0 to 100, a and b from -200 to 200, tolerances from 0.1 to 50; the uncertainty is expanded (k = 2), in
 * dE00.
 * Source: ISO/CIE 11664-6:2014 for the difference; ends as distances: common practice, no source.
 * Errors: `impossible` where neither a tolerance nor an end bounds the side of the reading; `not-finite`, `out-of-range`.
 *
 * @example
 * judgeColour({
 *   reading: { L: 41, a: 8, b: -30 },
 *   agreed: { target: { L: 40, a: 8, b: -30 }, tolerance: 3, light: null, dark: null },
 *   expandedUncertainty: 0.5,
 *   guardFactor: 1,
 * }) // { verdict: 'pass', deltaE: 0.88, dL: 1, da: 0, db: 0, limit: 3, limitedBy: 'tolerance', acceptanceLimit: 2.5 }
 */
export function judgeColour(input: {
  reading: Lab;
  agreed: ColourTarget;
  expandedUncertainty: number;
  guardFactor: number;
}): JudgedColour {
  const reading = checkLab('reading', input.reading);
  const target = checkLab('agreed.target', input.agreed.target);
  const deltaE = deltaE2000(target, reading, input.agreed.factors);
  const { limit, limitedBy } = limitFor(reading, input.agreed);
  const { expandedUncertainty, guardFactor } = input;
  return {
    ...judgeConformity({ value: deltaE, upperLimit: limit, expandedUncertainty, guardFactor }),
    ...{ deltaE, limit, limitedBy },
    ...{ dL: reading.L - target.L, da: reading.a - target.a, db: reading.b - target.b },
  };
}

function limitFor(reading: Lab, agreed: ColourTarget): Pick<JudgedColour, 'limit' | 'limitedBy'> {
  const { target, factors } = agreed;
  const lighter = reading.L >= target.L;
  const end = lighter ? agreed.light : agreed.dark;
  const tolerance =
    agreed.tolerance === null
      ? null
      : checkNumber('agreed.tolerance', agreed.tolerance, { min: 0.1, max: 50 });
  if (end !== null) {
    const distance = deltaE2000(target, end, factors);
    if (tolerance === null || distance < tolerance)
      return { limit: distance, limitedBy: lighter ? 'light end' : 'dark end' };
  }
  if (tolerance !== null) return { limit: tolerance, limitedBy: 'tolerance' };
  throw new CalcError({
    code: 'impossible',
    argument: 'agreed.tolerance',
    given: null,
    allowed: `a tolerance, or a ${lighter ? 'light' : 'dark'} end for a ${lighter ? 'lighter' : 'darker'} reading`,
  });
}
