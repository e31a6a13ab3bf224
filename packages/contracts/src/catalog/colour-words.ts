import type { Lab } from '../kernel/scalars.ts';
import { colourGradeNames, measuringGeometryNames, type MeasuringConditions } from './colour-grades.ts';
import type { AgreedColour, ColourTolerance } from './colour-standards.ts';

/**
 * A colour in figures, as screens and papers write it.
 *
 * @example
 * labWords({ L: 42.9, a: 9.1, b: -42.1 }) // 'L* 42.9, a* 9.1, b* −42.1'
 */
export const labWords = ({ L, a, b }: Lab): string =>
  [
    ['L*', L],
    ['a*', a],
    ['b*', b],
  ]
    .map(([axis, value]) => `${axis}\u00a0${Number(value).toFixed(1).replace('-', '−')}`)
    .join(', ');

/**
 * How far a reading may lie off.
 *
 * @example
 * toleranceWords({ from: 'target', deltaE: 3, kL: 1, kC: 1, kH: 1 }) // 'ΔE00 at most 3 from the target'
 */
export function toleranceWords({ from, deltaE, kL, kC, kH }: ColourTolerance): string {
  const factors = kL === 1 && kC === 1 && kH === 1 ? '' : ` (kL ${kL}, kC ${kC}, kH ${kH})`;
  const line = from === 'target' ? 'the target' : 'the line light end – target – dark end';
  return `ΔE00 at most ${deltaE} from ${line}${factors}`;
}

/**
 * What the figures were read under.
 *
 * @example
 * conditionsWords({ geometry: '45-0', illuminant: 'D65', observerDeg: 2 }) // 'D65, 2° observer, 45°/0°'
 */
export const conditionsWords = ({ illuminant, observerDeg, geometry }: MeasuringConditions): string =>
  `${illuminant}, ${observerDeg}° observer, ${measuringGeometryNames[geometry]}`;

/** What stands wherever a standard is shown that was taken over from parts, until a person stands for it. */
export const unconfirmedStatement = 'taken over, not confirmed';

/**
 * Which standard, in which revision and by what grade; one that nobody has approved or confirmed says so.
 *
 * @example
 * standardWords(part.agreedColour) // 'PEACOCK-3 rev 2, measured with an instrument'
 */
export function standardWords({ code, revision, status, grade, unconfirmed }: AgreedColour): string {
  const name = revision === null ? 'from the part' : `${code} rev ${revision}`;
  const state =
    status === 'draft'
      ? ', draft, not approved'
      : status === 'retired'
        ? ', retired'
        : unconfirmed
          ? `, ${unconfirmedStatement}`
          : '';
  return `${name}${state}, ${colourGradeNames[grade]}`;
}
