import type {
  FilmEvidence,
  FilmMeasurement,
  FilmPhase,
  NewFilmMeasurement,
  XrayRadiation,
} from '@huelot/contracts';
import { format } from '$lib/format/format.ts';
import { parseNumber } from '$lib/format/number.ts';

export interface Place {
  x: number;
  y: number;
}
export interface Pair {
  from: Place;
  to: Place;
}
/** An uncertainty as it is typed; without a factor it is standard. */
export interface TypedUncertainty {
  value: number | null;
  coverageFactor: number | null;
}
export interface TypedPeak {
  phase: FilmPhase;
  twoThetaDeg: number | null;
  intensity: number | null;
  intensityUncertainty: TypedUncertainty;
}

/** Evidence of every kind as it is typed; what another kind has stays while somebody changes their mind. */
export interface EvidenceValues {
  kind: FilmEvidence['kind'];
  scale: {
    from: Place | null;
    to: Place | null;
    lengthUm: number | null;
    lengthUncertaintyUm: TypedUncertainty;
  };
  edgeUncertaintyPx: TypedUncertainty;
  pairs: Pair[];
  fieldWidthPx: number | null;
  fieldHeightPx: number | null;
  massBeforeG: number | null;
  /** One on a line. */
  masses: string;
  weighingUncertaintyG: TypedUncertainty;
  blankLossG: number | null;
  areaMm2: number | null;
  areaUncertaintyMm2: TypedUncertainty;
  densityKgPerM3: number | null;
  densityUncertaintyKgPerM3: TypedUncertainty;
  porosity: number | null;
  porosityUncertainty: TypedUncertainty;
  stripping: string;
  massAfterG: number | null;
  acidTemperatureC: number | null;
  immersionMin: number | null;
  acid: string;
  radiation: XrayRadiation;
  reading: 'area' | 'height';
  peaks: TypedPeak[];
  /** By phase, as typed; null where there is none. */
  ratios: Partial<Record<FilmPhase, number | null>>;
  ratioSource: string;
  areaFraction: number | null;
  areaFractionUncertainty: TypedUncertainty;
  meanDiameterNm: number | null;
  meanDiameterUncertaintyNm: TypedUncertainty;
}
export interface FilmValues {
  seriesId: number;
  mark: string;
  measuredOn: string;
  laboratory: string;
  instrument: string;
  evidence: EvidenceValues;
  fileId: number | null;
  note: string;
  isConfirmed: boolean;
  reason: string;
}

const standard = (value: number | null): TypedUncertainty => ({ value, coverageFactor: null });
export const emptyPeak = (phase: FilmPhase): TypedPeak => ({
  ...{ phase, twoThetaDeg: null, intensity: null, intensityUncertainty: standard(null) },
});

/** Densities of films without pores: magnetite and anatase (handbook), to begin with. */
const usualDensity: Record<string, number> = { steel: 5170, titanium: 3900, aluminium: 3100 };

export const emptyFilm = (
  { seriesId, mark, baseMetal }: { seriesId: number; mark: string; baseMetal: string },
  kind: FilmEvidence['kind'],
): FilmValues => ({
  ...{ seriesId, mark, measuredOn: format.today(), laboratory: '', instrument: '', fileId: null, note: '' },
  ...{ isConfirmed: false, reason: '' },
  evidence: {
    kind,
    scale: { from: null, to: null, lengthUm: null, lengthUncertaintyUm: standard(null) },
    ...{ edgeUncertaintyPx: standard(0.5), pairs: [], fieldWidthPx: null, fieldHeightPx: null },
    ...{ massBeforeG: null, masses: '', weighingUncertaintyG: standard(0.0001), blankLossG: 0 },
    ...{ areaMm2: null, areaUncertaintyMm2: standard(null) },
    ...{ densityKgPerM3: usualDensity[baseMetal] ?? null, densityUncertaintyKgPerM3: standard(100) },
    ...{ porosity: 0, porosityUncertainty: standard(0.05), stripping: '' },
    ...{ massAfterG: null, acidTemperatureC: 38, immersionMin: 15, acid: '' },
    ...{ radiation: 'Cu-Ka', reading: 'area', ratios: {}, ratioSource: '' },
    peaks: [emptyPeak(baseMetal === 'titanium' ? 'anatase' : 'magnetite')],
    ...{ areaFraction: null, areaFractionUncertainty: standard(null) },
    ...{ meanDiameterNm: null, meanDiameterUncertaintyNm: standard(null) },
  },
});

/** A measurement as it is typed again, to be put in its place. */
export function filmValues(kept: FilmMeasurement): FilmValues {
  const { evidence, mark, measuredOn, laboratory, instrument, note, file, series, material } = kept;
  const empty = emptyFilm({ seriesId: series.id ?? 0, mark, baseMetal: material.baseMetal }, evidence.kind);
  return {
    ...{ ...empty, measuredOn, laboratory, instrument, note, fileId: file?.id ?? null },
    evidence: {
      ...empty.evidence,
      ...evidence,
      ...(evidence.kind === 'coating-mass' ? { masses: evidence.massesAfterG.join('\n') } : {}),
      ...(evidence.kind === 'diffraction' ? { ratios: evidence.referenceRatios } : {}),
      ...(evidence.kind === 'pores-typed'
        ? { meanDiameterUncertaintyNm: evidence.meanDiameterUncertaintyNm ?? standard(null) }
        : {}),
    } as EvidenceValues,
  };
}

/**
 * The masses of a column, one on a line; what is no number stays in the list, for the service to name its place.
 *
 * @example
 * massesOf('12,0003\n12.0001') // [12.0003, 12.0001]
 */
export const massesOf = (text: string): number[] =>
  text
    .split(/[\n;]+/)
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map((line) => {
      const read = parseNumber(line);
      return 'number' in read ? read.number : NaN;
    });

/** As the service takes it; what is missing is left for it to name. */
export function evidenceOf(values: EvidenceValues): FilmEvidence {
  const { kind, scale, edgeUncertaintyPx, pairs } = values;
  const taken = (): unknown => {
    switch (kind) {
      case 'cross-section':
        return { kind, scale, edgeUncertaintyPx, pairs };
      case 'pores': {
        const { fieldWidthPx, fieldHeightPx } = values;
        return { kind, scale, edgeUncertaintyPx, pairs, fieldWidthPx, fieldHeightPx };
      }
      case 'coating-mass': {
        const { massBeforeG, masses, weighingUncertaintyG, blankLossG, areaMm2, areaUncertaintyMm2 } = values;
        const { densityKgPerM3, densityUncertaintyKgPerM3, porosity, porosityUncertainty, stripping } =
          values;
        return {
          ...{ kind, massBeforeG, massesAfterG: massesOf(masses), weighingUncertaintyG, blankLossG, areaMm2 },
          ...{ areaUncertaintyMm2, densityKgPerM3, densityUncertaintyKgPerM3, porosity, porosityUncertainty },
          stripping,
        };
      }
      case 'diffraction': {
        const { radiation, reading, peaks, ratios, ratioSource } = values;
        const phases = new Set(peaks.map(({ phase }) => phase));
        const referenceRatios = Object.fromEntries(
          Object.entries(ratios).filter(([phase, ratio]) => ratio !== null && phases.has(phase as FilmPhase)),
        );
        return { kind, radiation, reading, peaks, referenceRatios, ratioSource };
      }
      case 'seal-loss': {
        const { massBeforeG, massAfterG, weighingUncertaintyG, areaMm2, areaUncertaintyMm2 } = values;
        const { acidTemperatureC, immersionMin, acid } = values;
        return {
          ...{ kind, massBeforeG, massAfterG, weighingUncertaintyG, areaMm2, areaUncertaintyMm2 },
          ...{ acidTemperatureC, immersionMin, acid },
        };
      }
      case 'pores-typed': {
        const { areaFraction, areaFractionUncertainty, meanDiameterNm, meanDiameterUncertaintyNm } = values;
        return {
          ...{ kind, areaFraction, areaFractionUncertainty, meanDiameterNm },
          meanDiameterUncertaintyNm: meanDiameterNm === null ? null : meanDiameterUncertaintyNm,
        };
      }
    }
  };
  return taken() as FilmEvidence;
}

export function bodyOf({ evidence, reason: _, ...values }: FilmValues): NewFilmMeasurement {
  return { ...values, evidence: evidenceOf(evidence) };
}
