import { z } from 'zod';
import { defineCommand } from '../kernel/http.ts';
import { Id, Instant, Line, PathId, Text } from '../kernel/scalars.ts';

const Range = z
  .strictObject({ low: z.number().min(-100).max(1000), high: z.number().min(-100).max(1000) })
  .refine(({ low, high }) => low <= high, { path: ['high'], message: 'must not be below the low end' });

/** The range that each figure should keep to; null where nothing is asked. */
export const ExposureLimits = z.strictObject({
  temperatureC: Range.nullable(),
  /** Of the collected solution, at 25 °C. */
  pH: Range.nullable(),
  /** Per horizontal collecting area of 80 cm². */
  collectionMlPerHour: Range.nullable(),
  /** Sodium chloride in the collected solution. */
  saltGPerL: Range.nullable(),
});
export type ExposureLimits = z.output<typeof ExposureLimits>;

export const ExposureFigure = z.enum(['temperatureC', 'pH', 'collectionMlPerHour', 'saltGPerL']);
export type ExposureFigure = z.output<typeof ExposureFigure>;

const figures = {
  temperatureC: z.number().min(-60).max(150).nullable(),
  pH: z.number().min(0).max(14).nullable(),
  collectionMlPerHour: z.number().min(0).max(50).nullable(),
  saltGPerL: z.number().min(0).max(400).nullable(),
};

export const ExposureReading = z
  .object({
    ...figures,
    id: Id,
    readAt: Instant,
    /** Outside their range when they were entered. */
    outside: z.array(ExposureFigure),
    note: z.string(),
    readBy: z.string(),
    enteredAt: Instant,
    /** The reading in the place of which it stands, and why. */
    correctsId: Id.nullable(),
    reason: z.string(),
    /** Another stands in its place. */
    isCorrected: z.boolean(),
  })
  .meta({ id: 'ExposureReading' });
export type ExposureReading = z.output<typeof ExposureReading>;

export const addExposureReading = defineCommand({
  name: 'addExposureReading',
  tags: ['colour'],
  path: '/exposure-tests/:id/readings',
  access: 'coupons.write',
  summary: 'Keep a reading of the chamber; what lies outside its range is marked for ever',
  params: { id: PathId },
  body: z.strictObject({ ...figures, readAt: Instant, note: Text(500) }),
  reply: ExposureReading,
  status: 201,
});
export type NewExposureReading = z.output<(typeof addExposureReading)['body']>;

export const correctExposureReading = defineCommand({
  name: 'correctExposureReading',
  tags: ['colour'],
  path: '/exposure-readings/:id/correction',
  access: 'coupons.write',
  summary: 'Keep a reading in the place of one that was entered wrongly, and why; both are shown',
  params: { id: PathId },
  body: z.strictObject({ ...figures, note: Text(500), reason: Line(500) }),
  reply: ExposureReading,
  status: 201,
});

export const ExposureInterruption = z
  .object({
    id: Id,
    fromAt: Instant,
    toAt: Instant.nullable(),
    reason: z.string(),
    enteredBy: z.string(),
    enteredAt: Instant,
    endedBy: z.string().nullable(),
  })
  .meta({ id: 'ExposureInterruption' });
export type ExposureInterruption = z.output<typeof ExposureInterruption>;

export const interruptExposureTest = defineCommand({
  name: 'interruptExposureTest',
  tags: ['colour'],
  path: '/exposure-tests/:id/interruptions',
  access: 'coupons.write',
  summary: 'Keep a time in which the specimens were not exposed; without an end it lasts',
  params: { id: PathId },
  body: z.strictObject({ fromAt: Instant, toAt: Instant.nullable(), reason: Line(500) }),
  reply: ExposureInterruption,
  status: 201,
});
export type NewExposureInterruption = z.output<(typeof interruptExposureTest)['body']>;

export const resumeExposureTest = defineCommand({
  name: 'resumeExposureTest',
  tags: ['colour'],
  path: '/exposure-interruptions/:id/end',
  access: 'coupons.write',
  summary: 'Say when an interruption ended',
  params: { id: PathId },
  body: z.strictObject({ toAt: Instant }),
  reply: ExposureInterruption,
});
