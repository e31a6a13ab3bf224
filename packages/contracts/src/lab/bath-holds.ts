import { z } from 'zod';
import { TemperatureC } from './lab-scalars.ts';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { Id, Instant, Line, listQuery, page, PathId, Quantity, Text } from '../kernel/scalars.ts';

const Numbered = z.object({ id: Id, number: z.string() });

/** No work in a bath until it is released: something was added and mixes in, or the lab says so. */
export const BathHold = z
  .object({
    id: Id,
    bathId: Id,
    /** The addition that it is for; null where the lab holds the bath on its own judgement. */
    addition: Numbered.nullable(),
    reason: z.string(),
    fromAt: Instant,
    placedBy: z.string(),
    /** The analysis that confirms the addition with every figure in range, as long as the hold stands. */
    confirmedBy: Numbered.extend({ bathTemperatureC: z.number().nullable() }).nullable(),
    release: z
      .object({
        at: Instant,
        by: z.string(),
        temperatureC: z.number().nullable(),
        /** How long it was mixed before work began again. */
        mixedS: z.number().nullable(),
        analysis: Numbered.nullable(),
        note: z.string(),
      })
      .nullable(),
  })
  .meta({ id: 'BathHold' });
export type BathHold = z.output<typeof BathHold>;

type ReleaseDoubt =
  | { code: 'too-cold' | 'too-hot'; temperatureC: number; limitC: number }
  | { code: 'mixed-too-short'; mixedS: number; leastS: number }
  | { code: 'sampled-too-soon'; afterS: number; leastS: number };
const minutes = (seconds: number) => `${Math.round(seconds / 60)} min`;

/** What speaks against a release, with its figures. */
export function releaseDoubtWords(doubt: ReleaseDoubt): string {
  switch (doubt.code) {
    case 'too-cold':
      return `${doubt.temperatureC} °C is colder than the ${doubt.limitC} °C that the tank is run at`;
    case 'too-hot':
      return `${doubt.temperatureC} °C is hotter than the ${doubt.limitC} °C that the tank is run at`;
    case 'mixed-too-short':
      return `it mixed for ${minutes(doubt.mixedS)}, usual is ${minutes(doubt.leastS)} at least`;
    case 'sampled-too-soon':
      return `the sample was taken ${minutes(doubt.afterS)} after the addition, before it can have mixed`;
  }
}

export const placeBathHold = defineCommand({
  name: 'placeBathHold',
  tags: ['lab'],
  path: '/baths/:id/holds',
  access: 'lab.write',
  summary: 'Put a bath on hold from now, for a planned addition that is begun or by judgement',
  params: { id: PathId },
  body: z.strictObject({ additionId: Id.nullable(), reason: Line(500) }),
  reply: BathHold,
  status: 201,
});
export const releaseBathHold = defineCommand({
  name: 'releaseBathHold',
  tags: ['lab'],
  path: '/bath-holds/:id/release',
  access: 'lab.write',
  summary: 'Release a bath: after an addition with its temperature and mixing time, else with the reason',
  params: { id: PathId },
  body: z.strictObject({
    temperatureC: TemperatureC.nullable(),
    mixedS: Quantity(30 * 86_400).nullable(),
    /** The analysis of the bath that it is released on. */
    analysisId: Id.nullable(),
    note: Text(500),
  }),
  reply: BathHold,
});
export const listBathHolds = defineQuery({
  name: 'listBathHolds',
  tags: ['lab'],
  path: '/baths/:id/holds',
  access: 'lab.read',
  summary: 'The holds of a bath, newest first',
  params: { id: PathId },
  query: { after: listQuery.after, limit: listQuery.limit },
  reply: page(BathHold),
});
