import type { FilmEvidence, NewFilmMeasurement } from '@huelot/contracts';
import { greyPng } from '../../apps/api/src/demo/grey-png.ts';

const standard = (value: number) => ({ value, coverageFactor: null });
/** A picture of 640 by 480 pixels. */
export const sectionPicture = greyPng({ width: 640, height: 480, greyAt: () => 128 });
const across = (px: number) => ({ from: { x: 100, y: 100 }, to: { x: 100, y: 100 + px } });

/** Ten micrometres over 500 pixels, and films of about 2 µm: 20 nm a pixel. */
export const crossSection = (
  extra: Partial<Extract<FilmEvidence, { kind: 'cross-section' }>> = {},
): FilmEvidence => ({
  kind: 'cross-section',
  scale: {
    ...{ from: { x: 10, y: 470 }, to: { x: 510, y: 470 }, lengthUm: 10 },
    lengthUncertaintyUm: { value: 0.2, coverageFactor: 2 },
  },
  edgeUncertaintyPx: standard(0.5),
  pairs: [100, 104, 96, 102, 98].map(across),
  ...extra,
});
/** 5.17 g/m², 1 µm of magnetite without pores. */
export const coatingMass = (
  extra: Partial<Extract<FilmEvidence, { kind: 'coating-mass' }>> = {},
): FilmEvidence => ({
  ...{ kind: 'coating-mass', massBeforeG: 12.02585, massesAfterG: [12.00003, 12], blankLossG: 0 },
  ...{ areaMm2: 5000, densityKgPerM3: 5170, porosity: 0, stripping: 'inhibited hydrochloric acid' },
  ...{ weighingUncertaintyG: standard(0.00005), areaUncertaintyMm2: standard(50) },
  ...{ densityUncertaintyKgPerM3: standard(100), porosityUncertainty: standard(0) },
  ...extra,
});
export const diffraction = (
  extra: Partial<Extract<FilmEvidence, { kind: 'diffraction' }>> = {},
): FilmEvidence => ({
  ...{ kind: 'diffraction', radiation: 'Cu-Ka', reading: 'area', referenceRatios: {}, ratioSource: '' },
  peaks: [
    { phase: 'magnetite', twoThetaDeg: 35.4, intensity: 600, intensityUncertainty: standard(40) },
    { phase: 'ferrite', twoThetaDeg: 44.7, intensity: 1400, intensityUncertainty: standard(60) },
  ],
  ...extra,
});
export const pores = (extra: Partial<Extract<FilmEvidence, { kind: 'pores-typed' }>> = {}): FilmEvidence => ({
  ...{ kind: 'pores-typed', areaFraction: 0.2, areaFractionUncertainty: { value: 0.04, coverageFactor: 2 } },
  ...{ meanDiameterNm: 100, meanDiameterUncertaintyNm: standard(10) },
  ...extra,
});

export const measurement = (
  about: Pick<NewFilmMeasurement, 'seriesId' | 'evidence'> & Partial<NewFilmMeasurement>,
): NewFilmMeasurement => ({
  ...{ mark: 'A1', measuredOn: '2026-03-09', laboratory: 'the lab', instrument: '', note: '' },
  ...{ fileId: null, isConfirmed: false },
  ...about,
});
