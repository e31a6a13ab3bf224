import { checkNumber } from '../check.ts';
import { checkEdge, pairLengthPx, type PicturePair, type PictureScale, readScale } from './picture-scale.ts';
import { thicknessFigure, type ThicknessFigure } from './thickness-figure.ts';

export interface CrossSection {
  scale: PictureScale;
  /** Each across the film, square to the metal. */
  pairs: readonly PicturePair[];
  /** Standard uncertainty of placing one click on an edge, in pixels. */
  edgeUncertaintyPx: number;
}

export interface CrossSectionFilm extends ThicknessFigure {
  nmPerPx: number;
  /** Each pair, nm, in their order. */
  pairsNm: number[];
  /** Standard deviation of the pairs: how uneven the film is and how unsteady the hand. */
  scatterNm: number;
  flags: string[];
}

/** ISO 1463 asks for five at least (from memory). */
const ENOUGH_PAIRS = 5;
/** With fewer pixels across the film a picture of higher magnification says more. */
const ENOUGH_PX = 10;

/**
 * Thickness of a film by a picture of its cross-section: the mean of pairs of clicks across it, by the scale bar of the picture.
 *
 * Uncertainty from the scatter of the pairs (n - 1 degrees of freedom), the length of the scale bar, where its ends lie, and where
 * the edges of the film lie. The last does not fall with the number of pairs: one eye judges one edge alike each time. Not
 * covered: a section that is not cut square shows the film too thick by the cosine of its tilt, and a film that broke or smeared in
 * polishing shows another.
 *
 * Coordinates in pixels of the picture, 0 to 100,000; the bar 0.001 to 100,000 µm; 2 to 500 pairs; `edgeUncertaintyPx` 0.1 to 100.
 * Source: ISO 1463 (microscopical method; from memory) for the measurement, JCGM 100:2008 (GUM) 5.1 for the uncertainty.
 * Errors: `impossible` for a bar or a pair of no length, `not-finite`, `out-of-range`, one pair alone among them.
 *
 * @example
 * const across = (px: number) => ({ from: { x: 0, y: 100 }, to: { x: 0, y: 100 + px } });
 * const scale = { from: { x: 10, y: 700 }, to: { x: 510, y: 700 }, lengthUm: 10, lengthUncertaintyUm: 0.1 };
 * filmFromCrossSection({ scale, pairs: [100, 104, 96, 102, 98].map(across), edgeUncertaintyPx: 0.5 })
 * // { thicknessNm: 2000, standardUncertaintyNm: 37.52, degreesOfFreedom: 12.39, flags: [] }
 */
export function filmFromCrossSection(section: CrossSection): CrossSectionFilm {
  const { barPx, lengthUm, lengthUncertaintyUm, nmPerPx } = readScale(section.scale);
  const edgeUncertaintyPx = checkEdge(section.edgeUncertaintyPx);
  const count = checkNumber('pairs.length', section.pairs.length, { min: 2, max: 500 });
  const lengths = section.pairs.map((pair, index) => pairLengthPx(`pairs[${index}]`, pair));
  const mean = lengths.reduce((sum, one) => sum + one, 0) / count;
  const scatter = Math.sqrt(lengths.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (count - 1));
  const thicknessNm = mean * nmPerPx;
  /** A length is the difference of two clicks. */
  const clicksPx = Math.SQRT2 * edgeUncertaintyPx;
  const known = (source: string, standardUncertainty: number) => ({
    ...{ source, standardUncertainty, degreesOfFreedom: null },
  });
  const figure = thicknessFigure(thicknessNm, [
    {
      source: 'scatter of the pairs',
      standardUncertainty: (scatter / Math.sqrt(count)) * nmPerPx,
      degreesOfFreedom: count - 1,
    },
    known('edges of the film', clicksPx * nmPerPx),
    known('length of the scale bar', (thicknessNm * lengthUncertaintyUm) / lengthUm),
    known('ends of the scale bar', (thicknessNm * clicksPx) / barPx),
  ]);
  return {
    ...figure,
    nmPerPx,
    pairsNm: lengths.map((length) => length * nmPerPx),
    scatterNm: scatter * nmPerPx,
    flags: [
      ...(count < ENOUGH_PAIRS ? [`${count} pairs: five or more, well apart, say how even the film is`] : []),
      ...(mean < ENOUGH_PX
        ? [`the film is ${mean.toFixed(1)} pixels across: a closer picture says more`]
        : []),
    ],
  };
}
