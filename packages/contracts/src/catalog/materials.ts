import { z } from 'zod';
import { EmptyBody, defineQuery, defineCommand } from '../kernel/http.ts';
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
import { BaseMetal } from './base-metals.ts';

/**
 * How far a figure can be trusted: P read in the cited publication; P-model computed from a published model; D derived
 * from such; C common practice without a source; M from memory, check before relying on it; shop: the shop's own figure.
 */
export const Evidence = z.enum(['P', 'P-model', 'D', 'C', 'M', 'shop']);
export type Evidence = z.output<typeof Evidence>;

/** How other records name a material, with what they compute from it. */
export const MaterialRef = z.object({
  id: Id,
  name: z.string(),
  condition: z.string(),
  baseMetal: BaseMetal,
  densityKgPerM3: z.number(),
  heatCapacityJPerKgK: z.number(),
});
export type MaterialRef = z.output<typeof MaterialRef>;

export const Material = z
  .object({
    id: Id,
    name: z.string(),
    /** Its number in a standard, `UNS R50400`. */
    designation: z.string(),
    condition: z.string(),
    baseMetal: BaseMetal,
    densityKgPerM3: z.number(),
    heatCapacityJPerKgK: z.number(),
    source: z.string(),
    evidence: Evidence,
    notes: z.string(),
    partCount: Count,
    archivedAt: Instant.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Material' });
export type Material = z.output<typeof Material>;

/** What is typed about a material. */
export const MaterialFacts = z.strictObject({
  name: Line(120),
  designation: Text(120),
  condition: Text(120),
  baseMetal: BaseMetal,
  /** From lithium, 530, to osmium, 22 600. */
  densityKgPerM3: z.number().min(500).max(23_000),
  heatCapacityJPerKgK: Positive(5000),
  source: Line(300),
  evidence: Evidence,
  notes: Text(),
});
export type MaterialFacts = z.output<typeof MaterialFacts>;

const filters = {
  search: listQuery.search,
  archived: Archived.optional(),
  baseMetal: BaseMetal.optional(),
  sort: z.enum(['name', '-name', 'baseMetal', '-baseMetal', 'density', '-density']).optional(),
};

export const listMaterials = defineQuery({
  name: 'listMaterials',
  tags: ['catalog'],
  path: '/materials',
  access: 'materials.read',
  summary: 'Alloys and conditions, searched by name, designation or condition',
  query: { ...listQuery, ...filters },
  reply: page(Material),
});
export const exportMaterials = defineQuery({
  name: 'exportMaterials',
  tags: ['catalog'],
  path: '/materials.csv',
  access: 'materials.read',
  summary: 'The list of materials as CSV',
  query: filters,
  reply: Csv,
});
export const getMaterial = defineQuery({
  name: 'getMaterial',
  tags: ['catalog'],
  path: '/materials/:id',
  access: 'materials.read',
  summary: 'One material',
  params: { id: PathId },
  reply: Material,
});
export const createMaterial = defineCommand({
  name: 'createMaterial',
  tags: ['catalog'],
  path: '/materials',
  access: 'materials.write',
  summary: 'Add a material',
  body: MaterialFacts,
  reply: Material,
  status: 201,
});
export const updateMaterial = defineCommand({
  name: 'updateMaterial',
  tags: ['catalog'],
  method: 'PUT',
  path: '/materials/:id',
  access: 'materials.write',
  summary: 'Change a material',
  params: { id: PathId },
  body: MaterialFacts,
  reply: Material,
  versioned: true,
});
export const archiveMaterial = defineCommand({
  name: 'archiveMaterial',
  tags: ['catalog'],
  path: '/materials/:id/archive',
  access: 'materials.write',
  summary: 'Take a material off the lists; nothing is deleted',
  params: { id: PathId },
  body: EmptyBody,
  reply: Material,
});
export const unarchiveMaterial = defineCommand({
  name: 'unarchiveMaterial',
  tags: ['catalog'],
  path: '/materials/:id/unarchive',
  access: 'materials.write',
  summary: 'Put an archived material back on the lists',
  params: { id: PathId },
  body: EmptyBody,
  reply: Material,
});
export const addMaterialLibrary = defineCommand({
  name: 'addMaterialLibrary',
  tags: ['catalog'],
  path: '/materials/starting-library',
  access: 'materials.write',
  summary: 'Add the materials of the starting library that are not there yet',
  body: EmptyBody,
  reply: z.object({ added: Count }),
});
