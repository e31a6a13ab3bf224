import { deltaE2000, type Lab, labToSrgb, srgbToLab } from '@huelot/calc';
import { Lab as LabInRange } from '@huelot/contracts';

/** CIELAB while it is typed. */
export type TypedLab = { [Axis in keyof Lab]: number | null };

const axes = ['L', 'a', 'b'] as const;

/**
 * What is wrong with a colour that is typed, in words; null where it is whole, or not typed at all.
 *
 * @example
 * labFault({ L: 42, a: null, b: -10 }) // 'a* is missing: a colour is all three, or none of them.'
 */
export function labFault(typed: TypedLab): string | null {
  const missing = axes.filter((axis) => typed[axis] === null);
  if (missing.length === axes.length) return null;
  if (missing.length > 0)
    return `${missing.map((axis) => `${axis}*`).join(' and ')} ${missing.length === 1 ? 'is' : 'are'} missing: a colour is all three, or none of them.`;
  return LabInRange.safeParse(typed).success
    ? null
    : 'No colour has that: L* is 0 to 100, a* and b* are −200 to 200.';
}

/**
 * How far the patch on a screen is from the colour, in words; null where a screen can show it.
 *
 * @example
 * screenFault({ L: 45, a: -10, b: -62 }) // 'A screen cannot show it: this patch is ΔE₀₀ 4.5 off.'
 */
export function screenFault(lab: Lab): string | null {
  const { hex, inGamut } = labToSrgb(lab);
  return inGamut
    ? null
    : `A screen cannot show it: this patch is ΔE₀₀ ${deltaE2000(lab, srgbToLab(hex)).toFixed(1)} off.`;
}
