import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import {
  Archived,
  Day,
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Text,
  Version,
} from '../kernel/scalars.ts';

/** A colour meter is a spectrophotometer or a colorimeter for surfaces. */
const InstrumentKind = z.enum([
  ...(['burette', 'pipette', 'balance', 'ph-meter', 'conductivity-meter', 'hydrometer'] as const),
  ...(['thermometer', 'colour-meter', 'other'] as const),
]);
const instrumentFields = {
  code: Line(20),
  name: Line(100),
  kind: InstrumentKind,
  serial: Text(60),
  calibrationDueOn: Day.nullable(),
  notes: Text(1000),
};
export const Instrument = z
  .object({
    id: Id,
    ...instrumentFields,
    code: z.string(),
    name: z.string(),
    serial: z.string(),
    notes: z.string(),
    calibrationOverdue: z.boolean(),
    archivedAt: Instant.nullable(),
    version: Version,
  })
  .meta({ id: 'Instrument' });
export type Instrument = z.output<typeof Instrument>;

export const listInstruments = defineQuery({
  name: 'listInstruments',
  tags: ['lab'],
  path: '/instruments',
  access: 'lab.read',
  summary: 'Instruments by code',
  query: { ...listQuery, archived: Archived.optional(), kind: InstrumentKind.optional() },
  reply: page(Instrument),
});
export const createInstrument = defineCommand({
  name: 'createInstrument',
  tags: ['lab'],
  path: '/instruments',
  access: 'lab.write',
  summary: 'Add an instrument',
  body: z.strictObject(instrumentFields),
  reply: Instrument,
  status: 201,
});
export const updateInstrument = defineCommand({
  name: 'updateInstrument',
  tags: ['lab'],
  method: 'PUT',
  path: '/instruments/:id',
  access: 'lab.write',
  summary: 'Change an instrument, its calibration too',
  params: { id: PathId },
  body: z.strictObject({ ...instrumentFields, archived: z.boolean() }),
  reply: Instrument,
  versioned: true,
});
