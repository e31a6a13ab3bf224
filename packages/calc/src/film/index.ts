export { combineThicknesses } from './combine-thicknesses.ts';
export {
  combineUncertainties,
  type CombinedUncertainty,
  type UncertaintyContribution,
} from './combine-uncertainties.ts';
export { type PhaseName, phaseNames, type Radiation, radiationNames } from './data/phases.ts';
export {
  type Diffraction,
  type DiffractionPeak,
  diffractionPhases,
  type PhaseShare,
} from './diffraction-phases.ts';
export { type FilmEvidence, type FilmResult, filmResult, type PoreResult } from './film-evidence.ts';
export { type CrossSection, type CrossSectionFilm, filmFromCrossSection } from './film-cross-section.ts';
export { filmFromMass, type MassFilm, type StrippedFilm } from './film-from-mass.ts';
export { type Agreement, normalisedError, type UncertainFigure } from './normalised-error.ts';
export { type PhaseLine, phaseLines } from './phase-lines.ts';
export type { PicturePair, PicturePoint, PictureScale } from './picture-scale.ts';
export { type PorePicture, type Pores, poresFromPicture } from './pore-fraction.ts';
export { type SealLoss, sealLoss, type SealTest } from './seal-loss.ts';
export { standardUncertainty, type StatedUncertainty } from './stated-uncertainty.ts';
export { thicknessDoubts } from './thickness-doubts.ts';
export type { ThicknessFigure } from './thickness-figure.ts';
