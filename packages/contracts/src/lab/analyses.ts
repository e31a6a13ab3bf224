import { z } from 'zod';
import { AnalysisReason, AnalysisResult, AnalysisSummary } from './analysis-records.ts';
import { BathSetup } from './bath-setups.ts';
import { AnalysisRequest, Bath } from './baths.ts';
import { Solute } from './chemicals.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { ComponentKey, ComponentUnit, ResultState, TemperatureC } from './lab-scalars.ts';
import { Instrument } from './instruments.ts';
import { AnalysisMethod, Dilution, HydrometerScale, SampleBasis, SecondReading } from './methods.ts';
import { TitrantLot } from './titrants.ts';
import {
  Csv,
  Day,
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Quantity,
  Text,
} from '../kernel/scalars.ts';

const Ml = Quantity(1000);
const Amount = Positive(10_000);
const Replicates = <T extends z.ZodRawShape>(shape: T) => z.array(z.strictObject(shape)).min(1).max(4);
const sample = {
  /** Whether `amount` of a flask is mL pipetted or g weighed. */
  basis: SampleBasis,
  /** Of the sample when it was taken out of the bottle. */
  temperatureC: TemperatureC,
  dilution: Dilution.nullable(),
  /** Taken off every burette reading that counts from zero. */
  blankMl: Quantity(50),
};

/** Raw readings as they stood at the bench; the results are computed from them, here and on the server alike. */
export const AnalysisReadings = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('caustic-two-end-points'),
    ...sample,
    solute: z.enum(['KOH', 'NaOH']),
    secondReading: SecondReading,
    replicates: Replicates({ amount: Amount, firstEndPointMl: Ml, secondEndPointMl: Ml }),
  }),
  z.strictObject({
    kind: z.literal('caustic-barium-chloride'),
    ...sample,
    solute: z.enum(['KOH', 'NaOH']),
    replicates: Replicates({ amount: Amount, totalMl: Ml, hydroxideMl: Ml }),
  }),
  z.strictObject({
    kind: z.literal('sulfuric-free-acid'),
    ...sample,
    aluminium: z.enum(['none', 'masked', 'counted']),
    replicates: Replicates({ amount: Amount, endPointMl: Ml }),
  }),
  z.strictObject({
    kind: z.literal('sulfuric-aluminium'),
    ...sample,
    procedure: z.enum(['fluoride', 'two-end-points']),
    replicates: Replicates({ amount: Amount, acidMl: Ml, totalMl: Ml }),
  }),
  z.strictObject({
    kind: z.literal('phosphate'),
    ...sample,
    secondReading: SecondReading,
    replicates: Replicates({ amount: Amount, firstEndPointMl: Ml, secondEndPointMl: Ml }),
  }),
  z.strictObject({
    kind: z.literal('phosphoric'),
    ...sample,
    secondReading: SecondReading,
    replicates: Replicates({ amount: Amount, firstEndPointMl: Ml, secondEndPointMl: Ml }),
  }),
  z.strictObject({
    kind: z.literal('hydrometer'),
    solute: Solute,
    scale: HydrometerScale,
    calibrationTemperatureC: TemperatureC.nullable(),
    /** Null when nobody knows what else is dissolved; an empty list says that nothing is. */
    dissolved: z
      .array(
        z.strictObject({ solute: z.enum([...Solute.options, 'Al2_SO4_3']), gramsPerLitre: Quantity(1000) }),
      )
      .max(4)
      .nullable(),
    replicates: Replicates({ reading: Quantity(1000), temperatureC: TemperatureC }),
  }),
  z.strictObject({
    kind: z.literal('ph'),
    temperatureC: TemperatureC,
    replicates: Replicates({ reading: z.number().min(-2).max(16) }),
  }),
  z.strictObject({
    kind: z.literal('conductivity'),
    temperatureC: TemperatureC,
    /** In S/m: 1 mS/cm is 0.1 S/m. */
    replicates: Replicates({ reading: Quantity(1000) }),
  }),
  z.strictObject({
    kind: z.literal('turbidity'),
    temperatureC: TemperatureC,
    /** In NTU. */
    replicates: Replicates({ reading: Quantity(10_000) }),
  }),
  z.strictObject({ kind: z.literal('appearance'), good: z.boolean(), words: Line(500) }),
  z.strictObject({
    kind: z.literal('plain'),
    values: z
      .array(
        z.strictObject({
          component: ComponentKey,
          unit: ComponentUnit,
          referenceTemperatureC: TemperatureC.nullable(),
          value: z.number().min(-1e6).max(1e6),
          standardUncertainty: Quantity(1e6).nullable(),
        }),
      )
      .min(1)
      .max(12),
  }),
]);
export type AnalysisReadings = z.output<typeof AnalysisReadings>;

/** The report of an outside laboratory that figures were read off. */
const outsideReport = {
  laboratory: Line(200),
  reportNumber: Line(100),
  reportedOn: Day,
};
const newAnalysis = {
  methodId: Id,
  sampledAt: Instant,
  analysedAt: Instant,
  why: AnalysisReason,
  samplePoint: Text(100),
  /** What stood in the tank when the sample was taken: a low tank reads high. */
  volumeL: Quantity(1e7).nullable(),
  agitation: z.boolean().nullable(),
  bathTemperatureC: TemperatureC.nullable(),
  readings: AnalysisReadings,
  titrantId: Id.nullable(),
  instrumentId: Id.nullable(),
  /** Needed when readings are questioned: why they stand all the same. */
  answer: Text(500),
  notes: Text(1000),
  /** Of figures entered as found that an outside laboratory reported; its file is a PDF or a picture. */
  outside: z
    .strictObject({ ...outsideReport, fileId: Id.nullable() })
    .nullable()
    .optional(),
};
export const NewAnalysis = z.strictObject(newAnalysis);
export type NewAnalysis = z.output<typeof NewAnalysis>;

export const Analysis = z
  .object({
    id: Id,
    number: z.string(),
    bath: z.object({ id: Id, number: z.string(), tankId: Id, tankCode: z.string() }),
    method: z.object({ id: Id, code: z.string(), revision: z.int(), name: z.string(), formula: z.string() }),
    sampledAt: Instant,
    analysedAt: Instant,
    enteredAt: Instant,
    analyst: z.string(),
    why: AnalysisReason,
    samplePoint: z.string(),
    volumeL: z.number().nullable(),
    agitation: z.boolean().nullable(),
    bathTemperatureC: z.number().nullable(),
    readings: AnalysisReadings,
    titrant: z
      .object({
        id: Id,
        label: z.string(),
        reagent: z.string(),
        standardisationId: Id,
        eqPerLitre: z.number(),
        standardUncertaintyEqPerLitre: z.number(),
        standardisedOn: Day,
      })
      .nullable(),
    instrument: z.object({ id: Id, code: z.string(), calibrationDueOn: Day.nullable() }).nullable(),
    results: z.array(AnalysisResult),
    outside: z
      .object({ ...outsideReport, file: z.object({ id: Id, name: z.string() }).nullable() })
      .nullable(),
    densityKgPerM3: z.number().nullable(),
    /** What was doubtful about the readings, and what the calculation says of itself. */
    questions: z.array(z.string()),
    flags: z.array(z.string()),
    answer: z.string(),
    notes: z.string(),
    calcVersion: z.string(),
    /** What the bath had done since the analysis before it. */
    use: z.object({ days: z.number(), loads: z.int(), areaM2: z.number(), ampereHours: z.number() }),
    reviewedBy: z.string().nullable(),
    reviewedAt: Instant.nullable(),
    /** It stays on record and counts for nothing: a sample of another bath, a wrong import. */
    void: z.object({ at: Instant, by: z.string(), reason: z.string() }).nullable(),
    supersedes: z.object({ id: Id, number: z.string() }).nullable(),
    supersedeReason: z.string().nullable(),
    supersededBy: z.object({ id: Id, number: z.string() }).nullable(),
    additions: z.array(z.object({ id: Id, number: z.string() })),
  })
  .meta({ id: 'Analysis' });
export type Analysis = z.output<typeof Analysis>;

/** What is known of a bath before a sample, that results are judged against before they are kept. */
export const AnalysisBackground = z.object({
  /** The side of neutral it is on by what it holds. */
  side: z.enum(['acid', 'alkali']).nullable(),
  watched: z.array(z.string()),
  previous: z.array(
    z.object({
      component: z.string(),
      unit: ComponentUnit,
      referenceTemperatureC: z.number().nullable(),
      value: z.number(),
      standardUncertainty: z.number().nullable(),
      /** After what was added since; null where nothing was. */
      expected: z.number().nullable(),
      isStrength: z.boolean(),
      days: z.number(),
      /** What parts carried out since, over what stands in the tank. */
      carriedOutShare: z.number(),
    }),
  ),
});
export type AnalysisBackground = z.output<typeof AnalysisBackground>;

/** Everything the page that enters an analysis needs. */
export const AnalysisSheet = z
  .object({
    bath: Bath,
    setup: BathSetup.nullable(),
    methods: z.array(AnalysisMethod),
    titrants: z.array(TitrantLot),
    instruments: z.array(Instrument),
    requests: z.array(AnalysisRequest),
    latest: z.array(AnalysisResult),
    /** Of a sample taken now. */
    background: AnalysisBackground,
    samplePoints: z.array(z.string()),
    /** Of the newest analysis of this tank; null before the first. */
    lastMethodCode: z.string().nullable(),
  })
  .meta({ id: 'AnalysisSheet' });
export type AnalysisSheet = z.output<typeof AnalysisSheet>;
export const getAnalysisSheet = defineQuery({
  name: 'getAnalysisSheet',
  tags: ['lab'],
  path: '/baths/:id/analysis-sheet',
  access: 'lab.read',
  summary: 'All that entering an analysis of a bath needs',
  params: { id: PathId },
  reply: AnalysisSheet,
});

export const recordAnalysis = defineCommand({
  name: 'recordAnalysis',
  tags: ['lab'],
  path: '/baths/:id/analyses',
  access: 'lab.write',
  summary: 'Record an analysis by its raw readings; results are computed, and requests it answers are closed',
  params: { id: PathId },
  body: NewAnalysis,
  reply: Analysis,
  status: 201,
});
export const correctAnalysis = defineCommand({
  name: 'correctAnalysis',
  tags: ['lab'],
  path: '/analyses/:id/corrections',
  access: 'lab.write',
  summary: 'Record an analysis that takes the place of another, with the reason; the other is kept',
  params: { id: PathId },
  body: z.strictObject({ ...newAnalysis, reason: Line(500) }),
  reply: Analysis,
  status: 201,
});
export const reviewAnalysis = defineCommand({
  name: 'reviewAnalysis',
  tags: ['lab'],
  path: '/analyses/:id/review',
  access: 'methods.write',
  summary: 'Review an analysis that somebody else made',
  params: { id: PathId },
  body: z.strictObject({}),
  reply: Analysis,
});
export const voidAnalysis = defineCommand({
  name: 'voidAnalysis',
  tags: ['lab'],
  path: '/analyses/:id/void',
  access: 'lab.write',
  summary:
    'Void an analysis, with the reason; it stays on record, counts for nothing, and what it answered is asked for again',
  params: { id: PathId },
  body: z.strictObject({ reason: Line(500) }),
  reply: Analysis,
});
export const getAnalysis = defineQuery({
  name: 'getAnalysis',
  tags: ['lab'],
  path: '/analyses/:id',
  access: 'lab.read',
  summary: 'One analysis with raw readings, results and the limits they were judged by',
  params: { id: PathId },
  reply: Analysis,
});

const filters = {
  search: listQuery.search,
  bathId: PathId.optional(),
  tankId: PathId.optional(),
  component: ComponentKey.optional(),
  state: ResultState.optional(),
  from: Day.optional(),
  to: Day.optional(),
};
export const listAnalyses = defineQuery({
  name: 'listAnalyses',
  tags: ['lab'],
  path: '/analyses',
  access: 'lab.read',
  summary: 'Analyses, the latest sample first',
  query: { after: listQuery.after, limit: listQuery.limit, ...filters },
  reply: page(AnalysisSummary),
});
export const exportAnalyses = defineQuery({
  name: 'exportAnalyses',
  tags: ['lab'],
  path: '/analyses.csv',
  access: 'lab.read',
  summary: 'Analyses as CSV, one line a result',
  query: filters,
  reply: Csv,
});
