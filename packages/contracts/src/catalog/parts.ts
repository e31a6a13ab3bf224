import { z } from 'zod';
import { AgreedColour } from './colour-standards.ts';
import { CustomerRef } from './customers.ts';
import { StoredFile } from '../core/files.ts';
import { Geometry } from './geometry.ts';
import { EmptyBody, defineQuery, defineCommand } from '../kernel/http.ts';
import { MaterialRef } from './materials.ts';
import { ColourReadAt, NewPartZones, PartZone } from './part-zones.ts';
import {
  Archived,
  Count,
  Csv,
  Id,
  Instant,
  Line,
  PathId,
  Positive,
  Text,
  Version,
  listQuery,
  page,
} from '../kernel/scalars.ts';

const Length = Positive(20_000);

// Parts

export const PartFileKind = z.enum(['drawing', 'photo', 'model', 'other']);
export const PartFile = z.object({ kind: PartFileKind, caption: z.string(), file: StoredFile });
export type PartFile = z.output<typeof PartFile>;

/** How other records name a part. */
export const PartRef = z.object({
  id: Id,
  number: z.string(),
  revision: z.string(),
  description: z.string(),
  /** The colour it asks for; what is issued shows the revision that was in force. Null: none was agreed. */
  agreedColour: AgreedColour.nullable(),
  /** Places with a surface or a colour of their own. */
  zones: z.array(PartZone),
});
export type PartRef = z.output<typeof PartRef>;

const RevisionRef = z.object({ id: Id, revision: z.string() });

export const Part = z
  .object({
    id: Id,
    customer: CustomerRef,
    number: z.string(),
    revision: z.string(),
    description: z.string(),
    material: MaterialRef,
    conditionReceived: z.string(),
    /** The box it needs on a rack as it hangs. */
    widthMm: z.number().nullable(),
    heightMm: z.number().nullable(),
    depthMm: z.number().nullable(),
    massKg: z.number().nullable(),
    massMethod: z.enum(['typed', 'volume']),
    geometry: Geometry,
    /** All surface that the liquid reaches, roughness included. */
    areaMm2: z.number(),
    /** What draws current: sizes the load. */
    electricalAreaMm2: z.number(),
    /** What is coated and has to look right. */
    coatedAreaMm2: z.number(),
    maskedAreaMm2: z.number(),
    contactAreaMm2: z.number(),
    roughnessFactor: z.number(),
    volumeMm3: z.number().nullable(),
    /** How the area was found, in words. */
    areaMethod: z.string(),
    areaFoundBy: z.string(),
    areaFoundAt: Instant,
    /** By the standard it points to: the approved revision, else the newest. */
    agreedColour: AgreedColour.nullable(),
    zones: z.array(PartZone),
    colourReadAt: ColourReadAt,
    specification: z.string(),
    specificationRevision: z.string(),
    significantSurfaces: z.string(),
    contactMarks: z.string(),
    maskingNotes: z.string(),
    maskingFeatures: Count,
    dimensionAllowance: z.string(),
    handling: z.string(),
    notes: z.string(),
    files: z.array(PartFile),
    predecessor: RevisionRef.nullable(),
    successor: RevisionRef.nullable(),
    /** Sent to a customer, ordered or in a lot: only notes and files change, anything else makes a new revision. */
    used: z.boolean(),
    archivedAt: Instant.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Part' });
export type Part = z.output<typeof Part>;

export const PartItem = z.object({
  id: Id,
  customer: CustomerRef,
  number: z.string(),
  revision: z.string(),
  description: z.string(),
  materialId: Id,
  materialName: z.string(),
  baseMetal: z.string(),
  areaMm2: z.number(),
  massKg: z.number().nullable(),
  geometryKind: z.enum(['typed', 'shapes', 'mesh']),
  agreedColour: AgreedColour.nullable(),
  superseded: z.boolean(),
  archived: z.boolean(),
  createdAt: Instant,
});
export type PartItem = z.output<typeof PartItem>;

/** What is typed about a part in one revision. */
export const PartFacts = z.strictObject({
  /** The customer's number; the same in every revision of the part. */
  number: Line(80),
  revision: Line(40),
  description: Text(300),
  materialId: Id,
  conditionReceived: Text(300),
  widthMm: Length.nullable(),
  heightMm: Length.nullable(),
  depthMm: Length.nullable(),
  /** Null with `massMethod: 'volume'` takes volume times density. */
  massKg: Positive(10_000).nullable(),
  massMethod: z.enum(['typed', 'volume']),
  geometry: Geometry,
  /** A standard of the shop's own or of the customer. */
  colourStandardId: Id.nullable(),
  zones: NewPartZones.default([]),
  colourReadAt: ColourReadAt.default('check'),
  specification: Text(200),
  specificationRevision: Text(60),
  significantSurfaces: Text(2000),
  contactMarks: Text(2000),
  maskingNotes: Text(2000),
  maskingFeatures: z.int().min(0).max(1000),
  dimensionAllowance: Text(500),
  handling: Text(2000),
  notes: Text(),
  /** The files of the part, all of them, in the order shown. */
  files: z
    .array(z.strictObject({ fileId: Id, kind: PartFileKind, caption: Text(200) }))
    .max(40)
    .refine(
      (files) => new Set(files.map(({ fileId }) => fileId)).size === files.length,
      'names a file twice',
    ),
});
export type PartFacts = z.output<typeof PartFacts>;

const NewPart = z.strictObject({ customerId: Id, ...PartFacts.shape });
export type NewPart = z.output<typeof NewPart>;

const filters = {
  search: listQuery.search,
  customerId: PathId.optional(),
  materialId: PathId.optional(),
  archived: Archived.optional(),
  /** Superseded revisions are left out unless asked for. */
  revisions: z.enum(['current', 'all']).optional(),
  sort: z
    .enum(['number', '-number', 'customer', '-customer', 'area', '-area', 'createdAt', '-createdAt'])
    .optional(),
};

export const listParts = defineQuery({
  name: 'listParts',
  tags: ['catalog'],
  path: '/parts',
  access: 'parts.read',
  summary: 'Parts, searched by number, description or customer',
  query: { ...listQuery, ...filters },
  reply: page(PartItem),
});
export const exportParts = defineQuery({
  name: 'exportParts',
  tags: ['catalog'],
  path: '/parts.csv',
  access: 'parts.read',
  summary: 'The list of parts as CSV',
  query: filters,
  reply: Csv,
});
export const getPart = defineQuery({
  name: 'getPart',
  tags: ['catalog'],
  path: '/parts/:id',
  access: 'parts.read',
  summary: 'One part in one revision',
  params: { id: PathId },
  reply: Part,
});
export const createPart = defineCommand({
  name: 'createPart',
  tags: ['catalog'],
  path: '/parts',
  access: 'parts.write',
  summary: 'Add a part of a customer',
  body: NewPart,
  reply: Part,
  status: 201,
});
export const updatePart = defineCommand({
  name: 'updatePart',
  tags: ['catalog'],
  method: 'PUT',
  path: '/parts/:id',
  access: 'parts.write',
  summary: 'Change a part; of a used revision only notes and files, of a superseded one nothing',
  params: { id: PathId },
  body: PartFacts,
  reply: Part,
  versioned: true,
});
export const revisePart = defineCommand({
  name: 'revisePart',
  tags: ['catalog'],
  path: '/parts/:id/revisions',
  access: 'parts.write',
  summary: "Add the customer's next revision of a part; the one before points to it",
  params: { id: PathId },
  body: PartFacts,
  reply: Part,
  status: 201,
  versioned: true,
});
export const archivePart = defineCommand({
  name: 'archivePart',
  tags: ['catalog'],
  path: '/parts/:id/archive',
  access: 'parts.write',
  summary: 'Take a part off the lists; nothing is deleted',
  params: { id: PathId },
  body: EmptyBody,
  reply: Part,
});
export const unarchivePart = defineCommand({
  name: 'unarchivePart',
  tags: ['catalog'],
  path: '/parts/:id/unarchive',
  access: 'parts.write',
  summary: 'Put an archived part back on the lists',
  params: { id: PathId },
  body: EmptyBody,
  reply: Part,
});

const Use = z.object({ id: Id, number: z.string(), status: z.string(), createdAt: Instant });
/** The newest fifty of each; null where the person may not read that kind of record. */
export const getPartUses = defineQuery({
  name: 'getPartUses',
  tags: ['catalog'],
  path: '/parts/:id/uses',
  access: 'parts.read',
  summary: 'Where a part was quoted, ordered and run',
  params: { id: PathId },
  reply: z.object({
    quotations: z.array(Use).nullable(),
    orders: z.array(Use).nullable(),
    lots: z.array(Use).nullable(),
  }),
});
