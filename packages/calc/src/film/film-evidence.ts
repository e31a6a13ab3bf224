import { checkName, checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';
import {
  type Diffraction,
  type DiffractionPeak,
  diffractionPhases,
  type PhaseShare,
} from './diffraction-phases.ts';
import { type CrossSection, type CrossSectionFilm, filmFromCrossSection } from './film-cross-section.ts';
import { filmFromMass, type MassFilm, type StrippedFilm } from './film-from-mass.ts';
import type { PictureScale } from './picture-scale.ts';
import { type PorePicture, type Pores, poresFromPicture } from './pore-fraction.ts';
import { type SealLoss, sealLoss, type SealTest } from './seal-loss.ts';
import { standardUncertainty, type StatedUncertainty } from './stated-uncertainty.ts';

/** The same figures with some of their uncertainties as they were stated. */
type Stating<T, K extends keyof T> = Omit<T, K> & Record<K, StatedUncertainty>;
type StatedScale = Stating<PictureScale, 'lengthUncertaintyUm'>;

/** What was read of a film, as it was read. */
export type FilmEvidence =
  | ({ kind: 'cross-section'; scale: StatedScale } & Omit<
      Stating<CrossSection, 'edgeUncertaintyPx'>,
      'scale'
    >)
  | ({ kind: 'coating-mass' } & Stating<
      StrippedFilm,
      'weighingUncertaintyG' | 'areaUncertaintyMm2' | 'densityUncertaintyKgPerM3' | 'porosityUncertainty'
    >)
  | ({
      kind: 'diffraction';
      peaks: readonly Stating<DiffractionPeak, 'intensityUncertainty'>[];
    } & Omit<Diffraction, 'peaks'>)
  | ({ kind: 'pores'; scale: StatedScale } & Omit<Stating<PorePicture, 'edgeUncertaintyPx'>, 'scale'>)
  | ({ kind: 'seal-loss' } & Stating<SealTest, 'weighingUncertaintyG' | 'areaUncertaintyMm2'>)
  | {
      kind: 'pores-typed';
      areaFraction: number;
      areaFractionUncertainty: StatedUncertainty;
      /** Null where nobody read it. */
      meanDiameterNm: number | null;
      meanDiameterUncertaintyNm: StatedUncertainty | null;
    };

/** Of a porosity that another laboratory states no count is known. */
export type PoreResult = {
  [K in keyof Pores]:
    Pores[K] | (K extends 'areaFraction' | 'areaFractionUncertainty' | 'flags' ? never : null);
};

/** What the evidence says of the film; every uncertainty is standard. */
export type FilmResult =
  | ({ kind: 'cross-section' } & CrossSectionFilm)
  | ({ kind: 'coating-mass' } & MassFilm)
  | { kind: 'diffraction'; phases: PhaseShare[]; flags: string[] }
  | ({ kind: 'pores' } & PoreResult)
  | ({ kind: 'seal-loss' } & SealLoss);

/**
 * What a film measurement says: thickness by a cross-section or by stripping, phases by diffraction, pores, or the loss of a seal; with uncertainties
 * taken in as they are stated and handed out as standard ones.
 *
 * Ranges, source and errors as in {@link filmFromCrossSection}, {@link filmFromMass}, {@link diffractionPhases},
 * {@link poresFromPicture}, {@link sealLoss} and {@link standardUncertainty}; of pores that are typed a share from 0 to 1 and a mean diameter above 0
 * to 1e6 nm.
 *
 * @example
 * const areaFractionUncertainty = { value: 0.04, coverageFactor: 2 };
 * filmResult({ kind: 'pores-typed', areaFraction: 0.2, areaFractionUncertainty, meanDiameterNm: null, meanDiameterUncertaintyNm: null })
 * // { kind: 'pores', areaFraction: 0.2, areaFractionUncertainty: 0.02, meanDiameterNm: null }
 */
export function filmResult(evidence: FilmEvidence): FilmResult {
  switch (evidence.kind) {
    case 'cross-section':
      return {
        kind: 'cross-section',
        ...filmFromCrossSection({
          scale: scaleOf(evidence.scale),
          pairs: evidence.pairs,
          edgeUncertaintyPx: stated('edgeUncertaintyPx', evidence.edgeUncertaintyPx),
        }),
      };
    case 'coating-mass':
      return {
        kind: 'coating-mass',
        ...filmFromMass({
          ...evidence,
          weighingUncertaintyG: stated('weighingUncertaintyG', evidence.weighingUncertaintyG),
          areaUncertaintyMm2: stated('areaUncertaintyMm2', evidence.areaUncertaintyMm2),
          densityUncertaintyKgPerM3: stated('densityUncertaintyKgPerM3', evidence.densityUncertaintyKgPerM3),
          porosityUncertainty: stated('porosityUncertainty', evidence.porosityUncertainty),
        }),
      };
    case 'diffraction':
      return {
        kind: 'diffraction',
        ...diffractionPhases({
          radiation: evidence.radiation,
          referenceRatios: evidence.referenceRatios,
          peaks: evidence.peaks.map((peak, index) => ({
            ...peak,
            intensityUncertainty: stated(`peaks[${index}].intensityUncertainty`, peak.intensityUncertainty),
          })),
        }),
      };
    case 'pores':
      return {
        kind: 'pores',
        ...poresFromPicture({
          ...evidence,
          scale: scaleOf(evidence.scale),
          edgeUncertaintyPx: stated('edgeUncertaintyPx', evidence.edgeUncertaintyPx),
        }),
      };
    case 'pores-typed':
      return { kind: 'pores', ...typedPores(evidence) };
    case 'seal-loss':
      return {
        kind: 'seal-loss',
        ...sealLoss({
          ...evidence,
          weighingUncertaintyG: stated('weighingUncertaintyG', evidence.weighingUncertaintyG),
          areaUncertaintyMm2: stated('areaUncertaintyMm2', evidence.areaUncertaintyMm2),
        }),
      };
    default:
      checkName('kind', (evidence as { kind: string }).kind, [
        ...(['cross-section', 'coating-mass', 'diffraction', 'pores', 'pores-typed', 'seal-loss'] as const),
      ]);
      throw new Error('no such evidence');
  }
}

const scaleOf = (scale: StatedScale): PictureScale => ({
  ...scale,
  lengthUncertaintyUm: stated('scale.lengthUncertaintyUm', scale.lengthUncertaintyUm),
});

/** The standard uncertainty, refused under the name of the figure it belongs to. */
function stated(argument: string, uncertainty: StatedUncertainty): number {
  try {
    return standardUncertainty(uncertainty);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw new CalcError({
      ...{ code: error.code, given: error.given, allowed: error.allowed },
      argument: `${argument}.${error.argument}`,
    });
  }
}

function typedPores(typed: Extract<FilmEvidence, { kind: 'pores-typed' }>): PoreResult {
  const { meanDiameterNm, meanDiameterUncertaintyNm } = typed;
  return {
    ...{ count: null, perSquareUm: null, flags: [] },
    areaFraction: checkNumber('areaFraction', typed.areaFraction, { min: 0, max: 1 }),
    areaFractionUncertainty: stated('areaFractionUncertainty', typed.areaFractionUncertainty),
    meanDiameterNm:
      meanDiameterNm === null ? null : checkNumber('meanDiameterNm', meanDiameterNm, { above: 0, max: 1e6 }),
    meanDiameterUncertaintyNm:
      meanDiameterUncertaintyNm === null
        ? null
        : stated('meanDiameterUncertaintyNm', meanDiameterUncertaintyNm),
  };
}
