import { z } from 'zod';
import { Line, Positive, Quantity, Text } from '../kernel/scalars.ts';

/** What is found in and under oxide films. */
export const FilmPhase = z.enum([
  ...(['magnetite', 'maghemite', 'hematite', 'wuestite', 'goethite', 'ferrite'] as const),
  ...(['anatase', 'rutile', 'titanium'] as const),
]);
export type FilmPhase = z.output<typeof FilmPhase>;
export const XrayRadiation = z.enum(['Cu-Ka', 'Co-Ka', 'Fe-Ka', 'Cr-Ka', 'Mo-Ka']);
export type XrayRadiation = z.output<typeof XrayRadiation>;

/** As it is stated: standard where there is no coverage factor, expanded by it otherwise. */
export const StatedUncertainty = z.strictObject({
  value: Quantity(1e9),
  coverageFactor: z.number().min(1).max(5).nullable(),
});
export type StatedUncertainty = z.output<typeof StatedUncertainty>;

/** A place on a picture, in its own pixels from the upper left. */
const PicturePoint = z.strictObject({ x: Quantity(100_000), y: Quantity(100_000) });
const PicturePair = z.strictObject({ from: PicturePoint, to: PicturePoint });
const PictureScale = z.strictObject({
  ...PicturePair.shape,
  /** That is written on the bar. */
  lengthUm: Positive(100_000),
  lengthUncertaintyUm: StatedUncertainty,
});
const pictured = {
  scale: PictureScale,
  /** Of placing one click on an edge, in pixels. */
  edgeUncertaintyPx: StatedUncertainty,
};

const CrossSection = z.strictObject({
  kind: z.literal('cross-section'),
  ...pictured,
  /** Each across the film. */
  pairs: z.array(PicturePair).min(2, 'must be two pairs or more: one says nothing of its scatter').max(200),
});
const CoatingMass = z.strictObject({
  kind: z.literal('coating-mass'),
  massBeforeG: Positive(100_000),
  /** After each cycle of stripping, in order. */
  massesAfterG: z.array(Positive(100_000)).min(1).max(50),
  weighingUncertaintyG: StatedUncertainty,
  /** What a bare piece loses in the same bath and time; 0 where none was run. */
  blankLossG: Quantity(1000),
  areaMm2: Positive(1e8),
  areaUncertaintyMm2: StatedUncertainty,
  /** Of the film without its pores. */
  densityKgPerM3: z.number().min(500).max(25_000),
  densityUncertaintyKgPerM3: StatedUncertainty,
  /** Share of the film's volume that is pores. */
  porosity: z.number().min(0).max(0.95),
  porosityUncertainty: StatedUncertainty,
  /** In what it was stripped, and how long. */
  stripping: Line(300),
});
const Diffraction = z.strictObject({
  kind: z.literal('diffraction'),
  radiation: XrayRadiation,
  /** What the intensities are. */
  reading: z.enum(['area', 'height']),
  peaks: z
    .array(
      z.strictObject({
        phase: FilmPhase,
        twoThetaDeg: z.number().positive().lt(180),
        intensity: Positive(1e12),
        intensityUncertainty: StatedUncertainty,
      }),
    )
    .min(1)
    .max(200),
  /** Reference intensity ratios to corundum, where the person has them; none are looked up. */
  referenceRatios: z.partialRecord(FilmPhase, z.number().min(0.01).max(100)),
  /** Where the ratios are from. */
  ratioSource: Text(300),
});
const PorePicture = z.strictObject({
  kind: z.literal('pores'),
  ...pictured,
  /** Each across one pore. */
  pairs: z.array(PicturePair).min(1).max(1000),
  fieldWidthPx: z.number().min(10).max(100_000),
  fieldHeightPx: z.number().min(10).max(100_000),
});
const TypedPores = z.strictObject({
  kind: z.literal('pores-typed'),
  areaFraction: z.number().min(0).max(1),
  areaFractionUncertainty: StatedUncertainty,
  meanDiameterNm: Positive(1e6).nullable(),
  meanDiameterUncertaintyNm: StatedUncertainty.nullable(),
});

/** A sealed coating on aluminium in acid (ISO 3210). */
const SealLossTest = z.strictObject({
  kind: z.literal('seal-loss'),
  massBeforeG: Positive(100_000),
  massAfterG: Positive(100_000),
  weighingUncertaintyG: StatedUncertainty,
  areaMm2: z.number().min(100).max(1e8),
  areaUncertaintyMm2: StatedUncertainty,
  acidTemperatureC: z.number().min(0).max(100),
  immersionMin: Positive(600),
  /** Phosphoric, or phosphoric with chromic; dipped in nitric before or not. */
  acid: Line(300),
});

/** What was read of a film, as it was read. */
export const FilmEvidence = z
  .discriminatedUnion('kind', [CrossSection, CoatingMass, Diffraction, PorePicture, TypedPores, SealLossTest])
  .superRefine((evidence, context) => {
    const fault = (path: string, message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    if (evidence.kind === 'diffraction') {
      const hasRatios = Object.keys(evidence.referenceRatios).length > 0;
      if (hasRatios && evidence.ratioSource.trim() === '')
        fault('ratioSource', 'must say where the ratios are from');
    }
    if (
      evidence.kind === 'pores-typed' &&
      (evidence.meanDiameterNm === null) !== (evidence.meanDiameterUncertaintyNm === null)
    )
      fault('meanDiameterUncertaintyNm', 'must stand beside a mean diameter, and with one');
  });
export type FilmEvidence = z.output<typeof FilmEvidence>;

/** Whether a picture must be with the evidence: what was clicked on it says nothing without it. */
export const needsPicture = ({ kind }: Pick<FilmEvidence, 'kind'>): boolean =>
  kind === 'cross-section' || kind === 'pores';

const thickness = {
  thicknessNm: z.number(),
  standardUncertaintyNm: z.number(),
  /** Null where no scatter is in it. */
  degreesOfFreedom: z.number().nullable(),
  /** 95 %. */
  intervalNm: z.object({ low: z.number(), high: z.number() }),
  contributions: z.array(
    z.object({
      source: z.string(),
      standardUncertainty: z.number(),
      degreesOfFreedom: z.number().nullable(),
    }),
  ),
};
const flags = { flags: z.array(z.string()) };

/** What the evidence gave. Every uncertainty is standard. */
export const FilmResult = z.discriminatedUnion('kind', [
  z.object({
    kind: z.literal('cross-section'),
    ...thickness,
    nmPerPx: z.number(),
    pairsNm: z.array(z.number()),
    scatterNm: z.number(),
    ...flags,
  }),
  z.object({
    kind: z.literal('coating-mass'),
    ...thickness,
    filmMassG: z.number(),
    massPerAreaGPerM2: z.number(),
    massPerAreaUncertaintyGPerM2: z.number(),
    ...flags,
  }),
  z.object({
    kind: z.literal('diffraction'),
    phases: z.array(
      z.object({
        phase: FilmPhase,
        peaks: z.int(),
        strongest: z.number(),
        /** Of all intensity that was read: no amount of anything. */
        intensityShare: z.number(),
        intensityShareUncertainty: z.number(),
        /** By the ratios that were given; null where this phase has none. */
        massShare: z.number().nullable(),
        massShareUncertainty: z.number().nullable(),
      }),
    ),
    ...flags,
  }),
  z.object({
    kind: z.literal('pores'),
    count: z.number().nullable(),
    perSquareUm: z.number().nullable(),
    areaFraction: z.number(),
    areaFractionUncertainty: z.number(),
    meanDiameterNm: z.number().nullable(),
    meanDiameterUncertaintyNm: z.number().nullable(),
    ...flags,
  }),
  z.object({
    kind: z.literal('seal-loss'),
    lossMgPerDm2: z.number(),
    standardUncertaintyMgPerDm2: z.number(),
    limitMgPerDm2: z.number(),
    verdict: z.enum(['pass', 'warn', 'hold']),
    ...flags,
  }),
]);
export type FilmResult = z.output<typeof FilmResult>;
export type FilmMethod = FilmResult['kind'];
