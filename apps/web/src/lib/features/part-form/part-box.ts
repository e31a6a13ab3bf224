/** The box of a part on its rack; null where it is not known. */
interface PartBox {
  widthMm: number | null;
  heightMm: number | null;
  depthMm: number | null;
}
export interface Size {
  x: number;
  y: number;
  z: number;
}

/** The box as it lies in a file, to be turned as it hangs. */
export const boxOf = ({ x, y, z }: Size): PartBox => ({ widthMm: x, heightMm: z, depthMm: y });

/**
 * Whether a part has the box of a file, turned whichever way.
 *
 * @example
 * holdsBox({ widthMm: 10, heightMm: 30, depthMm: 20 }, { x: 10, y: 20, z: 30 }) // 'same'
 */
export function holdsBox({ widthMm, heightMm, depthMm }: PartBox, size: Size): 'empty' | 'same' | 'differs' {
  const sides = [widthMm, heightMm, depthMm].filter((side) => side !== null).sort((a, b) => a - b);
  if (sides.length === 0) return 'empty';
  const measured = [size.x, size.y, size.z].sort((a, b) => a - b);
  const same = measured.every((side, index) => Math.abs(side - (sides[index] ?? NaN)) <= 0.01 + 1e-4 * side);
  return same ? 'same' : 'differs';
}
