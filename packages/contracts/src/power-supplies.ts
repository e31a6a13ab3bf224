import { z } from 'zod';
import { reading, writing } from './http.ts';
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
} from './scalars.ts';
import { EquipmentCode, EquipmentRef } from './tanks.ts';

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

export const listPowerSupplies = reading({
  path: '/power-supplies',
  access: 'tanks.read',
  summary: 'Power supplies with the tanks they reach',
  query: { ...listQuery, ...filters },
  reply: page(PowerSupply),
});
export const exportPowerSupplies = reading({
  path: '/power-supplies/export',
  access: 'tanks.read',
  summary: 'The list of power supplies as CSV',
  query: filters,
  reply: Csv,
});
export const getPowerSupply = reading({
  path: '/power-supplies/:id',
  access: 'tanks.read',
  summary: 'One power supply',
  params: { id: PathId },
  reply: PowerSupply,
});
export const createPowerSupply = writing({
  path: '/power-supplies',
  access: 'tanks.write',
  summary: 'Add a power supply',
  body: NewPowerSupply,
  reply: PowerSupply,
  status: 201,
});
export const updatePowerSupply = writing({
  method: 'PUT',
  path: '/power-supplies/:id',
  access: 'tanks.write',
  summary: 'Change a power supply',
  params: { id: PathId },
  body: z.strictObject({ ...supplyFields, archived: z.boolean() }),
  reply: PowerSupply,
  versioned: true,
});
