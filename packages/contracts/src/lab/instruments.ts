import { z } from 'zod';
import { StepQuantity } from '../catalog/steps.ts';
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
import { InstrumentCalibration } from './instrument-calibrations.ts';

/** A colour meter is a spectrophotometer or a colorimeter for surfaces; a thickness gauge reads coatings, a length gauge pieces. */
export const InstrumentKind = z.enum([
  ...(['burette', 'pipette', 'balance', 'ph-meter', 'conductivity-meter', 'hydrometer'] as const),
  ...(['thermometer', 'electrical-meter', 'timer', 'flow-meter', 'thickness-gauge', 'length-gauge'] as const),
  ...(['colour-meter', 'other'] as const),
]);
export type InstrumentKind = z.output<typeof InstrumentKind>;

/** Which kinds of instrument read a figure of a step; `other` reads any. */
export const kindsReading: Record<StepQuantity, readonly InstrumentKind[]> = {
  voltageV: ['electrical-meter'],
  currentA: ['electrical-meter'],
  currentDensityAPerM2: ['electrical-meter'],
  chargeCPerM2: ['electrical-meter'],
  temperatureC: ['thermometer', 'ph-meter', 'conductivity-meter'],
  durationS: ['timer'],
  pH: ['ph-meter'],
  concentrationGPerL: ['hydrometer', 'burette', 'conductivity-meter'],
  conductivitySPerM: ['conductivity-meter'],
  flowLPerH: ['flow-meter'],
  coatingThicknessUm: ['thickness-gauge'],
  filmThicknessNm: ['thickness-gauge', 'colour-meter'],
  counterElectrodeGapMm: ['length-gauge'],
  deltaE2000: ['colour-meter'],
};
export const reads = (kind: InstrumentKind, quantity: StepQuantity): boolean =>
  kind === 'other' || kindsReading[quantity].includes(kind);

/** Why an instrument was not to be used: it failed its last calibration, or that was due. */
export const InstrumentFault = z.enum(['failed', 'overdue']);
export type InstrumentFault = z.output<typeof InstrumentFault>;

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
    /** It failed its last calibration and was not put right: nothing is measured with it. */
    calibrationFailed: z.boolean(),
    archivedAt: Instant.nullable(),
    version: Version,
  })
  .meta({ id: 'Instrument' });
export type Instrument = z.output<typeof Instrument>;

/** A figure that an instrument reads at a tank, or of a power supply. */
export const InstrumentPlace = z.object({
  quantity: StepQuantity,
  tank: z.object({ id: Id, code: z.string() }).nullable(),
  supply: z.object({ id: Id, code: z.string() }).nullable(),
});
export type InstrumentPlace = z.output<typeof InstrumentPlace>;

export const InstrumentRecord = z
  .object({
    instrument: Instrument,
    /** The newest first, those that were replaced since among them. */
    calibrations: z.array(InstrumentCalibration),
    places: z.array(InstrumentPlace),
  })
  .meta({ id: 'InstrumentRecord' });
export type InstrumentRecord = z.output<typeof InstrumentRecord>;

export const listInstruments = defineQuery({
  name: 'listInstruments',
  tags: ['lab'],
  path: '/instruments',
  access: 'lab.read',
  summary: 'Instruments by code',
  query: { ...listQuery, archived: Archived.optional(), kind: InstrumentKind.optional() },
  reply: page(Instrument),
});
export const getInstrument = defineQuery({
  name: 'getInstrument',
  tags: ['lab'],
  path: '/instruments/:id',
  access: 'lab.read',
  summary: 'One instrument with its calibrations and where it reads',
  params: { id: PathId },
  reply: InstrumentRecord,
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
  summary: 'Change an instrument; once it was calibrated, its due date is only brought forward',
  params: { id: PathId },
  body: z.strictObject({ ...instrumentFields, archived: z.boolean() }),
  reply: Instrument,
  versioned: true,
});
/** Where another instrument read the same figure, this one takes its place. */
export const setInstrumentPlaces = defineCommand({
  name: 'setInstrumentPlaces',
  tags: ['lab'],
  method: 'PUT',
  path: '/instruments/:id/places',
  access: 'lab.write',
  summary: 'Say what an instrument reads at which tanks and of which power supplies',
  params: { id: PathId },
  body: z.strictObject({
    places: z
      .array(z.strictObject({ quantity: StepQuantity, tankId: Id.nullable(), supplyId: Id.nullable() }))
      .max(200),
  }),
  reply: InstrumentRecord,
  versioned: true,
});
