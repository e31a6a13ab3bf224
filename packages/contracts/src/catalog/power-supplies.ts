import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import {
  Archived,
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
import { EquipmentCode, EquipmentRef } from './equipment.ts';

const supplyFields = {
  code: EquipmentCode,
  name: Line(100),
  maxVoltageV: Positive(1000),
  maxCurrentA: Positive(100_000),
  /** Direct-current output over what is drawn from the mains. */
  efficiency: z.number().min(0.3).max(1),
  notes: Text(4000),
  tankIds: z.array(Id).max(50),
};
export const PowerSupply = z
  .object({
    id: Id,
    ...supplyFields,
    code: z.string(),
    name: z.string(),
    notes: z.string(),
    tanks: z.array(EquipmentRef),
    archivedAt: Instant.nullable(),
    createdAt: Instant,
    version: Version,
  })
  .meta({ id: 'PowerSupply' });
export type PowerSupply = z.output<typeof PowerSupply>;
export const NewPowerSupply = z.strictObject(supplyFields);
export type NewPowerSupply = z.output<typeof NewPowerSupply>;

const filters = { search: listQuery.search, archived: Archived.optional() };

export const listPowerSupplies = defineQuery({
  name: 'listPowerSupplies',
  tags: ['catalog'],
  path: '/power-supplies',
  access: 'tanks.read',
  summary: 'Power supplies with the tanks they are connected to',
  query: { ...listQuery, ...filters },
  reply: page(PowerSupply),
});
export const exportPowerSupplies = defineQuery({
  name: 'exportPowerSupplies',
  tags: ['catalog'],
  path: '/power-supplies.csv',
  access: 'tanks.read',
  summary: 'The list of power supplies as CSV',
  query: filters,
  reply: Csv,
});
export const getPowerSupply = defineQuery({
  name: 'getPowerSupply',
  tags: ['catalog'],
  path: '/power-supplies/:id',
  access: 'tanks.read',
  summary: 'One power supply',
  params: { id: PathId },
  reply: PowerSupply,
});
export const createPowerSupply = defineCommand({
  name: 'createPowerSupply',
  tags: ['catalog'],
  path: '/power-supplies',
  access: 'tanks.write',
  summary: 'Add a power supply',
  body: NewPowerSupply,
  reply: PowerSupply,
  status: 201,
});
export const updatePowerSupply = defineCommand({
  name: 'updatePowerSupply',
  tags: ['catalog'],
  method: 'PUT',
  path: '/power-supplies/:id',
  access: 'tanks.write',
  summary: 'Change a power supply',
  params: { id: PathId },
  body: z.strictObject({ ...supplyFields, archived: z.boolean() }),
  reply: PowerSupply,
  versioned: true,
});
