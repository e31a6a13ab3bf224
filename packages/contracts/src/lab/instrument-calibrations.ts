import { z } from 'zod';
import { StoredFile } from '../core/files.ts';
import { defineCommand } from '../kernel/http.ts';
import { Day, Id, Instant, Line, PathId, Positive, Quantity, Text } from '../kernel/scalars.ts';

/** Whether every point was within its tolerance. */
export const InstrumentVerdict = z.enum(['pass', 'fail']);
export type InstrumentVerdict = z.output<typeof InstrumentVerdict>;

const Figure = z.number().min(-1e9).max(1e9);
/** What an instrument showed where a reference said `reference`: as it came, and as it went back to work. */
export const CalibrationPoint = z.strictObject({
  reference: Figure,
  /** Null where it was not read before it was adjusted, or is new. */
  asFound: Figure.nullable(),
  /** Null where nothing was adjusted. */
  asLeft: Figure.nullable(),
  /** The largest error allowed, either way. */
  tolerance: Positive(1e9),
  /** Of the calibration, for about 95 %; null where nobody states one. */
  expandedUncertainty: Quantity(1e9).nullable(),
  unit: Text(20),
});
export type CalibrationPoint = z.output<typeof CalibrationPoint>;

/** A calibration of an instrument. The calibration of a growth law is another thing: see `Calibration`. */
export const InstrumentCalibration = z
  .object({
    id: Id,
    doneOn: Day,
    nextDueOn: Day.nullable(),
    doneBy: z.string(),
    certificateNumber: z.string(),
    reference: z.string(),
    referenceCertificate: z.string(),
    points: z.array(CalibrationPoint),
    asFound: InstrumentVerdict.nullable(),
    asLeft: InstrumentVerdict,
    note: z.string(),
    file: StoredFile.nullable(),
    replacesId: Id.nullable(),
    reason: z.string(),
    replacedById: Id.nullable(),
    /** The last day before it on which the instrument was known to be good; null where there was none. */
    lastGoodOn: Day.nullable(),
    recordedBy: z.string(),
    recordedAt: Instant,
  })
  .meta({ id: 'InstrumentCalibration' });
export type InstrumentCalibration = z.output<typeof InstrumentCalibration>;

export const NewInstrumentCalibration = z.strictObject({
  doneOn: Day,
  nextDueOn: Day.nullable(),
  /** The laboratory, or the person where the shop does it itself. */
  doneBy: Line(120),
  certificateNumber: Text(80),
  /** What it was compared with, and the number of the certificate of that. */
  reference: Line(200),
  referenceCertificate: Line(80),
  points: z.array(CalibrationPoint).min(1).max(40),
  note: Text(1000),
  fileId: Id.nullable(),
  replaces: z.strictObject({ id: Id, reason: Line(500) }).nullable(),
});
export type NewInstrumentCalibration = z.output<typeof NewInstrumentCalibration>;

export const recordInstrumentCalibration = defineCommand({
  name: 'recordInstrumentCalibration',
  tags: ['lab'],
  path: '/instruments/:id/calibrations',
  access: 'lab.write',
  summary: 'Write down a calibration of an instrument, as found and as left; it stands for good',
  params: { id: PathId },
  body: NewInstrumentCalibration,
  reply: InstrumentCalibration,
  status: 201,
});
