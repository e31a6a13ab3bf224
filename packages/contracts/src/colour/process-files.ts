import { z } from 'zod';
import { BaseMetal } from '../catalog/base-metals.ts';
import { ColourGrade } from '../catalog/colour-grades.ts';
import { MaterialFacts } from '../catalog/materials.ts';
import { NewStep } from '../catalog/new-step.ts';
import { recipeHeadFields } from '../catalog/recipes.ts';
import { TankContents } from '../catalog/steps.ts';
import { StoredFile } from '../core/files.ts';
import { defineCommand, defineQuery, EmptyBody } from '../kernel/http.ts';
import { Count, Day, Id, Instant, Lab, Line, PathId, Text, Version } from '../kernel/scalars.ts';
import { CouponTrial, StrengthUnit } from './coupons.ts';

/** What a file of a process begins with, and the version of it that is written and read; see docs/process-file.md. */
export const PROCESS_FORMAT = 'huelot-process';
export const PROCESS_VERSION = 1;
/** The most that a file of a process may hold, its pictures included. */
export const maxProcessFileBytes = 12 * 1024 * 1024;

const Sha256 = z.string().regex(/^[0-9a-f]{64}$/, 'must be a SHA-256 in hexadecimal digits');
const Base64 = z.string().regex(/^[A-Za-z0-9+/]*={0,2}$/, 'must be Base64');
const Alloy = z.strictObject({ name: Line(120), condition: Text(120), baseMetal: BaseMetal });
const Trial = z.strictObject(CouponTrial.omit({ madeBy: true, run: true }).shape);

/** What stood behind the process where it comes from: coupons with every trial, or what a lot came out as. */
const ProcessEvidence = z.strictObject({
  kind: z.enum(['coupons', 'first-article', 'trial-lot']),
  grade: ColourGrade,
  alloy: Alloy,
  pieces: z.int().min(1).max(1_000_000),
  instrument: Text(100),
  lab: Lab.nullable(),
  series: z
    .strictObject({
      code: Line(20),
      revision: z.int().positive(),
      name: Line(100),
      contents: TankContents,
      component: Line(60),
      unit: StrengthUnit,
      referenceTemperatureC: z.number().nullable(),
      preparation: Text(2000),
      trials: z.array(Trial).max(500),
    })
    .nullable(),
});
/** The parts that are digested and signed one by one, so that a changed one is named. */
export const processSections = {
  recipe: z.strictObject({ ...recipeHeadFields, number: Line(40), revision: z.int().positive() }),
  steps: z.array(NewStep).min(1).max(60),
  materials: z.array(MaterialFacts).max(50),
  evidence: z.array(ProcessEvidence).max(100),
  provenance: z.strictObject({ origin: Text(4000), priorArt: Text(4000), rights: Text(4000) }),
  files: z.array(z.strictObject({ name: Line(200), sha256: Sha256, content: Base64 })).max(20),
};
export type ProcessSection = keyof typeof processSections;
export const processSectionNames = Object.keys(processSections) as ProcessSection[];

export const ProcessFile = z.strictObject({
  format: z.literal(PROCESS_FORMAT),
  version: z.literal(PROCESS_VERSION),
  exportedAt: Instant,
  shop: z.strictObject({ name: Text(200) }),
  ...processSections,
  signature: z.strictObject({
    algorithm: z.literal('Ed25519'),
    /** SubjectPublicKeyInfo, DER, in Base64. */
    publicKey: Base64.max(200),
    digests: z.strictObject(
      Object.fromEntries(processSectionNames.map((name) => [name, Sha256])) as Record<
        ProcessSection,
        typeof Sha256
      >,
    ),
    value: Base64.max(200),
  }),
});
export type ProcessFile = z.output<typeof ProcessFile>;

/** How a revision was proved in another shop. It proves nothing here: the gate asks for a first article. */
export const ElsewhereProof = z.object({
  shop: z.string(),
  /** Number and revision of the recipe there. */
  recipe: z.string(),
  label: z.string(),
  provedBy: z.enum(['coupons', 'first-article', 'trial-lot']),
  exportedAt: Instant,
  /** SHA-256 of the key that signed the file. */
  fingerprint: Sha256,
  series: ProcessEvidence.shape.series,
});
export type ElsewhereProof = z.output<typeof ElsewhereProof>;

/** Where a process comes from, what was known before, and who has rights in it. */
export const Provenance = z
  .object({
    origin: z.string(),
    priorArt: z.string(),
    rights: z.string(),
    files: z.array(StoredFile),
    /** The file that the recipe was taken over from; null for one that began here. */
    takenOver: z
      .object({
        shop: z.string(),
        recipe: z.string(),
        fingerprint: z.string(),
        exportedAt: Instant,
        by: z.string(),
        at: Instant,
      })
      .nullable(),
    version: Version,
  })
  .meta({ id: 'Provenance' });
export type Provenance = z.output<typeof Provenance>;

const revision = { id: PathId };
export const getProvenance = defineQuery({
  name: 'getProvenance',
  tags: ['colour'],
  path: '/recipe-revisions/:id/provenance',
  access: 'recipes.read',
  summary: 'Where a recipe revision comes from; that of an earlier revision where nobody wrote it anew',
  params: revision,
  reply: Provenance,
});
export const updateProvenance = defineCommand({
  name: 'updateProvenance',
  tags: ['colour'],
  method: 'PUT',
  path: '/recipe-revisions/:id/provenance',
  access: 'recipes.write',
  summary: 'Write where a recipe revision comes from, what was known before and who has rights in it',
  params: revision,
  body: z.strictObject({
    ...processSections.provenance.shape,
    fileIds: z.array(Id).max(20),
  }),
  reply: Provenance,
  versioned: true,
});

/** The key that signs what leaves this shop. */
export const ProcessKey = z.object({ publicKey: z.string(), fingerprint: z.string() });
export const getProcessKey = defineQuery({
  name: 'getProcessKey',
  tags: ['colour'],
  path: '/process-key',
  access: 'recipes.read',
  summary: 'The public key that signs files of processes, and its fingerprint; null where there is none',
  reply: z.object({ key: ProcessKey.nullable() }),
});
/** What left the house: the file, the name that it is saved by, and the digest that the history of the recipe keeps. */
export const ProcessExport = z
  .object({ name: z.string(), sha256: Sha256, text: z.string() })
  .meta({ id: 'ProcessExport' });
export type ProcessExport = z.output<typeof ProcessExport>;
export const exportProcess = defineCommand({
  name: 'exportProcess',
  tags: ['colour'],
  path: '/recipe-revisions/:id/process-file',
  access: 'recipes.approve',
  summary:
    'An approved recipe revision with what proves it and where it comes from, as a signed file; the history of the recipe says who took it out',
  params: revision,
  body: EmptyBody,
  reply: ProcessExport,
  perMinute: 20,
});

const text = z.string().min(1, 'must hold the file').max(maxProcessFileBytes);
/** What a file holds, before anything is taken over. */
export const ProcessPreview = z
  .object({
    shop: z.string(),
    exportedAt: Instant,
    fingerprint: z.string(),
    recipe: processSections.recipe,
    stepCount: Count,
    evidence: z.array(
      z.object({
        label: z.string(),
        alloy: z.string(),
        condition: z.string(),
        pieces: Count,
        grade: ColourGrade,
      }),
    ),
    /** Materials that are not here yet and come along. */
    newMaterials: z.array(z.string()),
    files: z.array(z.string()),
    rights: z.string(),
  })
  .meta({ id: 'ProcessPreview' });
export type ProcessPreview = z.output<typeof ProcessPreview>;

export const readProcessFile = defineCommand({
  name: 'readProcessFile',
  tags: ['colour'],
  path: '/process-files/preview',
  access: 'recipes.write',
  summary: 'Check the signature of a file of a process and say what it holds, without keeping anything',
  body: z.strictObject({ text }),
  reply: ProcessPreview,
  keyless: 'works out only',
  maxBodyBytes: maxProcessFileBytes * 2,
});
export const importProcess = defineCommand({
  name: 'importProcess',
  tags: ['colour'],
  path: '/process-files',
  access: 'recipes.write',
  summary:
    'Take a process over as the draft of a new recipe, proved elsewhere and not here; all of it or nothing',
  body: z.strictObject({
    text,
    /** Of the key that was compared with the sending shop: another is refused. */
    fingerprint: Sha256,
  }),
  reply: z.object({ recipeId: Id, revisionId: Id, number: z.string() }),
  status: 201,
  problems: ['already-exists'],
  maxBodyBytes: maxProcessFileBytes * 2,
});
/** The day on which a file was written, for its name. */
export const processFileName = ({
  number,
  revision,
  day,
}: {
  number: string;
  revision: number;
  day: string;
}) => `${number}-rev-${revision}-${Day.parse(day)}.process.json`;
