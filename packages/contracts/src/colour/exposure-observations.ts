import { z } from 'zod';
import { defineCommand } from '../kernel/http.ts';
import { Day, Id, Instant, Line, PathId, Text } from '../kernel/scalars.ts';

/** What somebody saw of a specimen, the best first. A stain is of the film; corrosion is of the metal. */
export const ExposureVerdict = z.enum(['no-change', 'stain', 'first-corrosion', 'corroded']);
export type ExposureVerdict = z.output<typeof ExposureVerdict>;

export const exposureVerdictNames: Record<ExposureVerdict, string> = {
  'no-change': 'no change',
  stain: 'stain',
  'first-corrosion': 'first corrosion',
  corroded: 'corroded area',
};
/** Whether a verdict says that the metal corrodes. */
export const isCorroded = (verdict: ExposureVerdict) =>
  verdict === 'first-corrosion' || verdict === 'corroded';

const seen = {
  verdict: ExposureVerdict,
  /** Of the surface that is judged; asked for a corroded area, allowed at the first corrosion. */
  defectAreaPercent: z.number().positive().max(100).nullable(),
  note: Text(1000),
};
const Seen = z.object(seen).extend({
  /** 10 to 0 by ISO 10289, from memory; null where corrosion was seen and its area was not. */
  rating: z.int().min(0).max(10).nullable(),
});

export const ExposureObservation = Seen.extend({
  id: Id,
  seenAt: Instant,
  /** The shop's calendar day of it. */
  day: Day,
  exposedHours: z.number(),
  photo: z.object({ id: Id, name: z.string() }).nullable(),
  takenOut: z.boolean(),
  seenBy: z.string(),
  enteredAt: Instant,
  /** What counts: the last correction, or the observation itself. */
  counts: Seen,
  corrections: z.array(
    Seen.extend({
      reason: z.string(),
      correctedBy: z.string(),
      correctedAt: Instant,
      /** The result was frozen before it. */
      afterEnd: z.boolean(),
    }),
  ),
}).meta({ id: 'ExposureObservation' });
export type ExposureObservation = z.output<typeof ExposureObservation>;

export const addExposureObservation = defineCommand({
  name: 'addExposureObservation',
  tags: ['colour'],
  path: '/exposure-specimens/:id/observations',
  access: 'coupons.write',
  summary:
    'Keep what was seen of a specimen today or yesterday; an older day that nobody looked on stays missed',
  params: { id: PathId },
  body: z.strictObject({
    ...seen,
    seenAt: Instant,
    photoId: Id.nullable(),
    /** Taken out of the test: nothing is due of it afterwards. */
    takenOut: z.boolean(),
  }),
  reply: ExposureObservation,
  status: 201,
});
export type NewExposureObservation = z.output<(typeof addExposureObservation)['body']>;

export const correctExposureObservation = defineCommand({
  name: 'correctExposureObservation',
  tags: ['colour'],
  path: '/exposure-observations/:id/corrections',
  access: 'coupons.write',
  summary: 'Say what an observation should have said, and why; the observation stands beside it',
  params: { id: PathId },
  body: z.strictObject({ ...seen, reason: Line(500) }),
  reply: ExposureObservation,
  status: 201,
});
export type ExposureCorrection = z.output<(typeof correctExposureObservation)['body']>;
