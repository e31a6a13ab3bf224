import { z } from 'zod';
import { BaseMetal } from './base-metals.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import {
  Archived,
  Csv,
  Id,
  Instant,
  Line,
  PathId,
  Positive,
  Quantity,
  Text,
  Version,
  listQuery,
  page,
} from '../kernel/scalars.ts';
import { TankContents } from './steps.ts';
import { EquipmentCode } from './equipment.ts';

const rackFields = {
  code: EquipmentCode,
  name: Line(100),
  baseMetal: BaseMetal,
  /** Null is a basket or a rack without fixed places. */
  hooks: z.int().min(1).max(100_000).nullable(),
  windowWidthMm: Positive(50_000),
  windowHeightMm: Positive(50_000),
  layers: z.int().min(1).max(100),
  gapMm: Quantity(5000),
  maxLoadKg: Positive(100_000),
  /** Of the empty rack, for the hoist. */
  massKg: Quantity(100_000),
  /** Conducting surface in the bath that draws current beside the parts. */
  bareAreaMm2: Quantity(1e9),
  notes: Text(4000),
};
export const Rack = z
  .object({
    id: Id,
    ...rackFields,
    code: z.string(),
    name: z.string(),
    notes: z.string(),
    /** What the rack's metal must never be put into, with the reason. */
    forbidden: z.array(z.object({ contents: TankContents, reason: z.string() })),
    archivedAt: Instant.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'Rack' });
export type Rack = z.output<typeof Rack>;
export const NewRack = z.strictObject(rackFields);
export type NewRack = z.output<typeof NewRack>;

const filters = {
  search: listQuery.search,
  archived: Archived.optional(),
  baseMetal: BaseMetal.optional(),
};

export const listRacks = defineQuery({
  name: 'listRacks',
  tags: ['catalog'],
  path: '/racks',
  access: 'tanks.read',
  summary: 'Racks',
  query: { ...listQuery, ...filters },
  reply: page(Rack),
});
export const exportRacks = defineQuery({
  name: 'exportRacks',
  tags: ['catalog'],
  path: '/racks.csv',
  access: 'tanks.read',
  summary: 'The list of racks as CSV',
  query: filters,
  reply: Csv,
});
export const getRack = defineQuery({
  name: 'getRack',
  tags: ['catalog'],
  path: '/racks/:id',
  access: 'tanks.read',
  summary: 'One rack',
  params: { id: PathId },
  reply: Rack,
});
export const createRack = defineCommand({
  name: 'createRack',
  tags: ['catalog'],
  path: '/racks',
  access: 'tanks.write',
  summary: 'Add a rack',
  body: NewRack,
  reply: Rack,
  status: 201,
});
export const updateRack = defineCommand({
  name: 'updateRack',
  tags: ['catalog'],
  method: 'PUT',
  path: '/racks/:id',
  access: 'tanks.write',
  summary: 'Change a rack',
  params: { id: PathId },
  body: z.strictObject({ ...rackFields, archived: z.boolean() }),
  reply: Rack,
  versioned: true,
});
