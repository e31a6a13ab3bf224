import { checkNumber } from '../check.ts';
import { checkEdge, pairLengthPx, type PicturePair, type PictureScale, readScale } from './picture-scale.ts';

export interface PorePicture {
  scale: PictureScale;
  /** Each across one pore, every pore of the field counted once. */
  pairs: readonly PicturePair[];
  /** The field in which they were counted. */
  fieldWidthPx: number;
  fieldHeightPx: number;
  edgeUncertaintyPx: number;
}

export interface Pores {
  count: number;
  perSquareUm: number;
  /** Share of the surface that is pores, 0 to 1. */
  areaFraction: number;
  areaFractionUncertainty: number;
  meanDiameterNm: number;
  meanDiameterUncertaintyNm: number;
  flags: string[];
}

/** Fewer pores leave a count that says little: its own uncertainty is a third. */
const ENOUGH_PORES = 10;

/**
 * Pores of a film by a picture of its surface: how many, how wide, and what share of the surface they are. Each is clicked across
 * once and taken as round.
 *
 * The share does not depend on the scale. Its uncertainty is that of a count (Poisson, weighted by the areas of the pores) and of
 * where their edges lie, judged alike for each. It is a share of the surface; it is that of the volume only where pores run
 * straight through.
 *
 * Coordinates and field in pixels, 0 to 100,000; 1 to 1000 pores; `edgeUncertaintyPx` 0.1 to 100.
 * Source: areal share and variance of a compound Poisson count, textbook; JCGM 100:2008 (GUM) for the rest.
 * Errors: `impossible` for a bar or a pore of no size, or pores that cover more than the field; `not-finite`, `out-of-range`.
 *
 * @example
 * const across = (px: number) => ({ from: { x: 50, y: 50 }, to: { x: 50 + px, y: 50 } });
 * const scale = { from: { x: 0, y: 480 }, to: { x: 200, y: 480 }, lengthUm: 1, lengthUncertaintyUm: 0 };
 * poresFromPicture({ scale, pairs: Array.from({ length: 100 }, () => across(20)), fieldWidthPx: 600, fieldHeightPx: 500, edgeUncertaintyPx: 0.5 })
 * // { perSquareUm: 13.33, areaFraction: 0.10472, areaFractionUncertainty: 0.01283, meanDiameterNm: 100, meanDiameterUncertaintyNm: 3.55 }
 */
export function poresFromPicture(picture: PorePicture): Pores {
  const { barPx, lengthUm, lengthUncertaintyUm, nmPerPx } = readScale(picture.scale);
  const edgeUncertaintyPx = checkEdge(picture.edgeUncertaintyPx);
  const count = checkNumber('pairs.length', picture.pairs.length, { min: 1, max: 1000 });
  const side = { min: 10, max: 100_000 };
  const fieldPx2 =
    checkNumber('fieldWidthPx', picture.fieldWidthPx, side) *
    checkNumber('fieldHeightPx', picture.fieldHeightPx, side);
  const diameters = picture.pairs.map((pair, index) => pairLengthPx(`pairs[${index}]`, pair));
  const areas = diameters.map((diameter) => (Math.PI * diameter ** 2) / 4);
  const sum = (values: readonly number[]) => values.reduce((total, one) => total + one, 0);
  const areaFraction = checkNumber('areaFraction', sum(areas) / fieldPx2, { max: 1 });
  const counted = Math.sqrt(sum(areas.map((area) => area ** 2))) / fieldPx2;
  const clicksPx = Math.SQRT2 * edgeUncertaintyPx;
  const edges = (Math.PI * sum(diameters) * clicksPx) / 2 / fieldPx2;
  const mean = sum(diameters) / count;
  const scatter =
    count < 2 ? 0 : Math.sqrt(sum(diameters.map((diameter) => (diameter - mean) ** 2)) / (count - 1) / count);
  return {
    count,
    perSquareUm: (count / (fieldPx2 * nmPerPx ** 2)) * 1e6,
    areaFraction,
    areaFractionUncertainty: Math.hypot(counted, edges),
    meanDiameterNm: mean * nmPerPx,
    meanDiameterUncertaintyNm:
      mean *
      nmPerPx *
      Math.hypot(scatter / mean, clicksPx / mean, clicksPx / barPx, lengthUncertaintyUm / lengthUm),
    flags: count < ENOUGH_PORES ? [`${count} pores: a count of so few says little`] : [],
  };
}
