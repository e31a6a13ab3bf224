import { z } from 'zod';
import { EmptyBody, EmptyReply, defineQuery, defineCommand } from '../kernel/http.ts';
import { Solute } from './chemicals.ts';
import { TitrantReagent } from './titrants.ts';
import {
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Quantity,
  Text,
  Version,
} from '../kernel/scalars.ts';

/** How readings become results; each has its own readings and its own function. */
export const MethodKind = z.enum([
  'caustic-two-end-points',
  'caustic-barium-chloride',
  'sulfuric-free-acid',
  'sulfuric-aluminium',
  'phosphate',
  'phosphoric',
  'hydrometer',
  'ph',
  'conductivity',
  'turbidity',
  'appearance',
  'plain',
]);
export type MethodKind = z.output<typeof MethodKind>;
export const methodKindNames: Record<MethodKind, string> = {
  'caustic-two-end-points': 'caustic and carbonate, two end points',
  'caustic-barium-chloride': 'caustic and carbonate, barium chloride',
  'sulfuric-free-acid': 'sulfuric acid, one end point',
  'sulfuric-aluminium': 'sulfuric acid and aluminium',
  phosphate: 'trisodium phosphate',
  phosphoric: 'phosphoric acid',
  hydrometer: 'hydrometer',
  ph: 'pH',
  conductivity: 'conductivity',
  turbidity: 'turbidity',
  appearance: 'colour and look',
  plain: 'figures entered as found',
};
/** The kinds that a titrant of known strength drives. */
export const titrationKinds = [
  'caustic-two-end-points',
  'caustic-barium-chloride',
  'sulfuric-free-acid',
  'sulfuric-aluminium',
  'phosphate',
  'phosphoric',
] as const satisfies readonly MethodKind[];
export type TitrationKind = (typeof titrationKinds)[number];

export const SecondReading = z.enum(['from-zero', 'from-first']);
export const HydrometerScale = z.enum(['g/mL', 'SG60F', 'Baume', 'Twaddell']);
export const SampleBasis = z.enum(['volume', 'mass']);
export const Dilution = z.object({ madeUpToMl: Positive(10_000), takenMl: Positive(10_000) });

/** What a method fixes; a member that its kind does not use is null. */
export const MethodSettings = z.object({
  titrant: z.object({ reagent: TitrantReagent, nominalEqPerLitre: Positive(20) }).nullable(),
  /** mL pipetted or g weighed for one flask, before any dilution. */
  sample: z
    .object({ basis: SampleBasis, amount: Positive(10_000), dilution: Dilution.nullable() })
    .nullable(),
  /** Null takes the solute of the bath. */
  solute: Solute.nullable(),
  secondReading: SecondReading.nullable(),
  /** What becomes of dissolved aluminium in the one end point of sulfuric acid. */
  aluminium: z.enum(['none', 'masked', 'counted']).nullable(),
  /** Two portions with and without fluoride, or two end points in one flask. */
  procedure: z.enum(['fluoride', 'two-end-points']).nullable(),
  scale: HydrometerScale.nullable(),
  /** First and second end point: `phenolphthalein`, `methyl orange`. */
  indicators: z.array(Line(60)).max(2),
  uncertainty: z.object({
    /** Of each burette reading, mL. */
    readingMl: Quantity(5),
    /** Of the bath in the flask, as a share. */
    sampleRelative: z.number().min(0).lt(1),
    /** Of pH, conductivity, turbidity or the float, in the unit of the reading. */
    reading: Quantity(1000),
    /** Of what a meter shows beside that, as a share: a cell is as wrong in deionised water as it is in acid. */
    readingRelative: z.number().min(0).lt(1).optional(),
  }),
  replicates: z.int().min(1).max(4),
  /** Range of the replicates over their mean that is questioned; of pH the range itself. */
  spreadLimit: Positive(10),
});
export type MethodSettings = z.output<typeof MethodSettings>;

const methodFields = {
  code: Line(20),
  name: Line(100),
  kind: MethodKind,
  settings: MethodSettings,
  /** What is done at the bench, one line a step. */
  procedure: Text(4000),
  /** The formula in words and letters, as the auditor reads it. */
  formula: Text(1000),
  /** Where method and figures come from. */
  source: Line(500),
};
export const MethodStatus = z.enum(['draft', 'in-force', 'superseded']);
export type MethodStatus = z.output<typeof MethodStatus>;

export const AnalysisMethod = z
  .object({
    id: Id,
    ...methodFields,
    code: z.string(),
    name: z.string(),
    source: z.string(),
    revision: z.int(),
    status: MethodStatus,
    changeNote: z.string(),
    author: z.string(),
    createdAt: Instant,
    inForceSince: Instant.nullable(),
    version: Version,
  })
  .meta({ id: 'AnalysisMethod' });
export type AnalysisMethod = z.output<typeof AnalysisMethod>;

const isTitration = (kind: MethodKind): kind is TitrationKind =>
  (titrationKinds as readonly MethodKind[]).includes(kind);
const fits = (
  { kind, settings }: { kind: MethodKind; settings: MethodSettings },
  context: z.RefinementCtx,
) => {
  const need = (name: keyof MethodSettings, needed: boolean) => {
    if (needed && settings[name] === null)
      context.addIssue({
        code: 'custom',
        path: ['settings', name],
        message: 'must be filled in for this kind',
      });
  };
  need('titrant', isTitration(kind));
  need('sample', isTitration(kind));
  need('secondReading', ['caustic-two-end-points', 'phosphate', 'phosphoric'].includes(kind));
  need('aluminium', kind === 'sulfuric-free-acid');
  need('procedure', kind === 'sulfuric-aluminium');
  need('scale', kind === 'hydrometer');
};
export const NewMethod = z.strictObject(methodFields).superRefine(fits);
export type NewMethod = z.output<typeof NewMethod>;

export const listMethods = defineQuery({
  name: 'listMethods',
  tags: ['lab'],
  path: '/methods',
  access: 'lab.read',
  summary: 'Methods of analysis, those in force unless asked otherwise',
  query: { ...listQuery, status: z.enum(['in-force', 'draft', 'superseded', 'all']).optional() },
  reply: page(AnalysisMethod),
});
export const getMethod = defineQuery({
  name: 'getMethod',
  tags: ['lab'],
  path: '/methods/:id',
  access: 'lab.read',
  summary: 'One revision of a method, with the others of its code',
  params: { id: PathId },
  reply: z.object({
    method: AnalysisMethod,
    revisions: z.array(z.object({ id: Id, revision: z.int(), status: MethodStatus, changeNote: z.string() })),
  }),
});
export const createMethod = defineCommand({
  name: 'createMethod',
  tags: ['lab'],
  path: '/methods',
  access: 'methods.write',
  summary: 'Write a method; it is a draft until it is put in force',
  body: NewMethod,
  reply: AnalysisMethod,
  status: 201,
});
export const reviseMethod = defineCommand({
  name: 'reviseMethod',
  tags: ['lab'],
  path: '/methods/:id/revisions',
  access: 'methods.write',
  summary: 'Start the next revision of a method as a copy',
  params: { id: PathId },
  body: z.strictObject({ changeNote: Line(500) }),
  reply: AnalysisMethod,
  status: 201,
});
export const updateMethod = defineCommand({
  name: 'updateMethod',
  tags: ['lab'],
  method: 'PUT',
  path: '/methods/:id',
  access: 'methods.write',
  summary: 'Change a draft',
  params: { id: PathId },
  body: NewMethod,
  reply: AnalysisMethod,
  versioned: true,
});
export const discardMethodDraft = defineCommand({
  name: 'discardMethodDraft',
  tags: ['lab'],
  method: 'DELETE',
  path: '/methods/:id',
  access: 'methods.write',
  summary: 'Discard a draft',
  params: { id: PathId },
  body: EmptyBody,
  reply: EmptyReply,
  versioned: true,
});
export const activateMethod = defineCommand({
  name: 'activateMethod',
  tags: ['lab'],
  path: '/methods/:id/activate',
  access: 'methods.write',
  summary: 'Put a draft in force; the revision before it is superseded',
  params: { id: PathId },
  body: EmptyBody,
  reply: AnalysisMethod,
  versioned: true,
});
