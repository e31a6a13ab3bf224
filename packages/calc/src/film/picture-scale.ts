import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

/** A place on a picture, in its own pixels from the upper left. */
export interface PicturePoint {
  x: number;
  y: number;
}
export interface PicturePair {
  from: PicturePoint;
  to: PicturePoint;
}
/** A scale bar: both of its ends as they were clicked, and the length that is written on it. */
export interface PictureScale extends PicturePair {
  lengthUm: number;
  lengthUncertaintyUm: number;
}

/** No picture is larger than this in one direction. */
export const MOST_PIXELS = 100_000;
/** Shorter, two clicks are one place. */
const LEAST_PX = 1;

/** Length of a pair in pixels; two clicks on one place are refused. */
export function pairLengthPx(argument: string, { from, to }: PicturePair): number {
  const range = { min: 0, max: MOST_PIXELS };
  const across =
    checkNumber(`${argument}.to.x`, to.x, range) - checkNumber(`${argument}.from.x`, from.x, range);
  const down =
    checkNumber(`${argument}.to.y`, to.y, range) - checkNumber(`${argument}.from.y`, from.y, range);
  const length = Math.hypot(across, down);
  if (length < LEAST_PX) {
    throw new CalcError({
      ...{ code: 'impossible', argument, given: `${length.toFixed(1)} pixels` },
      allowed: 'two places at least one pixel apart',
    });
  }
  return length;
}

/** The scale of a picture, checked: its bar in pixels and in micrometres. */
export function readScale(scale: PictureScale) {
  const barPx = pairLengthPx('scale', scale);
  const lengthUm = checkNumber('scale.lengthUm', scale.lengthUm, { min: 0.001, max: 100_000 });
  const lengthUncertaintyUm = checkNumber('scale.lengthUncertaintyUm', scale.lengthUncertaintyUm, {
    min: 0,
    max: lengthUm,
  });
  return { barPx, lengthUm, lengthUncertaintyUm, nmPerPx: (1000 * lengthUm) / barPx };
}

/** How well one click meets an edge, as a standard uncertainty in pixels. */
export const checkEdge = (edgeUncertaintyPx: number): number =>
  checkNumber('edgeUncertaintyPx', edgeUncertaintyPx, { min: 0.1, max: 100 });
