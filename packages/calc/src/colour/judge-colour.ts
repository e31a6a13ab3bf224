import { checkName, checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import { type JudgedConformity, judgeConformity } from '../quality/judge-conformity.ts';
import type { Lab } from './colour-types.ts';
import { ciede2000, type DeltaEFactors, deltaE2000 } from './delta-e.ts';
import { checkLab } from './lab.ts';

/** What a colour was agreed to be: how far a reading may lie from the target, or from the line between the ends. */
export interface ColourTarget {
  target: Lab;
  /** The largest dE00. */
  tolerance: number;
  /** `ends`: from the nearest point of the line light end, target, dark end. */
  from: 'target' | 'ends';
  light: Lab | null;
  dark: Lab | null;
  factors?: DeltaEFactors;
}

export interface JudgedColour extends JudgedConformity {
  /** dE00 from the target, or from the line between the ends. */
  deltaE: number;
  /** Reading less target: above 0 is lighter, redder, yellower. */
  dL: number;
  da: number;
  db: number;
}

/**
 * Judges a reading against an agreed colour with a guard band, as {@link judgeConformity} does. With ends, every colour on
 * the line from the light end over the target to the dark end is as agreed, and the difference is that from its nearest
 * point; an end that is not given ends the line at the target. Reading and target must be of one illuminant and observer.
 *
 * Valid for L from 0 to 100, a and b from -200 to 200, tolerances from 0.1 to 50; the uncertainty is expanded (k = 2), in
 * dE00.
 * Source: ISO/CIE 11664-6:2014 for the difference; the line between ends: common practice, no source.
 * Errors: `impossible` for `ends` without an end; `not-finite`, `out-of-range`, `unknown`.
 *
 * @example
 * judgeColour({
 *   reading: { L: 41, a: 8, b: -30 },
 *   agreed: { target: { L: 40, a: 8, b: -30 }, tolerance: 3, from: 'target', light: null, dark: null },
 *   expandedUncertainty: 0.5,
 *   guardFactor: 1,
 * }) // { verdict: 'pass', acceptanceLimit: 2.5, riskBeyond: 0, deltaE: 0.886, dL: 1, da: 0, db: 0 }
 */
export function judgeColour(input: {
  reading: Lab;
  agreed: ColourTarget;
  expandedUncertainty: number;
  guardFactor: number;
}): JudgedColour {
  const { agreed, expandedUncertainty, guardFactor } = input;
  const reading = checkLab('reading', input.reading);
  const target = checkLab('agreed.target', agreed.target);
  const upperLimit = checkNumber('agreed.tolerance', agreed.tolerance, { min: 0.1, max: 50 });
  checkName('agreed.from', agreed.from, ['target', 'ends']);
  const toTarget = deltaE2000(target, reading, agreed.factors);
  const deltaE = agreed.from === 'target' ? toTarget : Math.min(toTarget, ...toEnds(reading, agreed));
  return {
    ...judgeConformity({ value: deltaE, upperLimit, expandedUncertainty, guardFactor }),
    ...{ deltaE, dL: reading.L - target.L, da: reading.a - target.a, db: reading.b - target.b },
  };
}

/** The difference from the nearest point of the line to each end that is given. */
function toEnds(reading: Lab, { target, light, dark, factors }: ColourTarget): number[] {
  const ends = [light && checkLab('agreed.light', light), dark && checkLab('agreed.dark', dark)];
  const given = ends.filter((end) => end !== null);
  if (given.length === 0) {
    throw new CalcError({
      code: 'impossible',
      argument: 'agreed.from',
      given: 'ends',
      allowed: 'a light or a dark end, or a tolerance from the target',
    });
  }
  const along = (end: Lab, share: number): Lab => ({
    L: target.L + share * (end.L - target.L),
    a: target.a + share * (end.a - target.a),
    b: target.b + share * (end.b - target.b),
  });
  return given.map((end) => {
    const distance = (share: number) => ciede2000(along(end, share), reading, factors);
    return smallest(distance);
  });
}

const STEPS = 64;
/** The smallest value over 0 to 1: by steps, then by thirds around the best. */
function smallest(distance: (share: number) => number): number {
  const shares = Array.from({ length: STEPS + 1 }, (_, i) => i / STEPS);
  const best = shares.reduce((one, other) => (distance(other) < distance(one) ? other : one));
  let [low, high] = [Math.max(0, best - 1 / STEPS), Math.min(1, best + 1 / STEPS)];
  for (let i = 0; i < 40; i++) {
    const third = (high - low) / 3;
    if (distance(low + third) < distance(high - third)) high -= third;
    else low += third;
  }
  return Math.min(distance(best), distance((low + high) / 2));
}
