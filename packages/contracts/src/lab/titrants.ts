import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import {
  Day,
  Id,
  Instant,
  Line,
  listQuery,
  page,
  PathId,
  Positive,
  Quantity,
  Text,
  Version,
} from '../kernel/scalars.ts';

export const TitrantReagent = z.enum(['HCl', 'HNO3', 'H2SO4', 'NaOH', 'KOH']);
export type TitrantReagent = z.output<typeof TitrantReagent>;

/** A strength found for a bottle of titrant; a correction takes the place of another. */
export const Standardisation = z
  .object({
    id: Id,
    eqPerLitre: z.number(),
    standardUncertaintyEqPerLitre: z.number(),
    standardisedOn: Day,
    by: z.string(),
    at: Instant,
    replacesId: Id.nullable(),
    replaced: z.boolean(),
    reason: z.string(),
  })
  .meta({ id: 'Standardisation' });
export type Standardisation = z.output<typeof Standardisation>;
export const TitrantLot = z
  .object({
    id: Id,
    reagent: TitrantReagent,
    label: z.string(),
    expiresOn: Day.nullable(),
    expired: z.boolean(),
    finished: z.boolean(),
    notes: z.string(),
    /** The strength in use; analyses entered now take it. */
    current: Standardisation,
    standardisations: z.array(Standardisation),
    version: Version,
  })
  .meta({ id: 'TitrantLot' });
export type TitrantLot = z.output<typeof TitrantLot>;

const strength = {
  eqPerLitre: Positive(20),
  standardUncertaintyEqPerLitre: Quantity(1),
  standardisedOn: Day,
};
export const listTitrants = defineQuery({
  name: 'listTitrants',
  tags: ['lab'],
  path: '/titrants',
  access: 'lab.read',
  summary: 'Bottles of titrant, those in use unless asked otherwise',
  query: {
    after: listQuery.after,
    limit: listQuery.limit,
    finished: z.enum(['no', 'yes', 'all']).optional(),
  },
  reply: page(TitrantLot),
});
export const createTitrant = defineCommand({
  name: 'createTitrant',
  tags: ['lab'],
  path: '/titrants',
  access: 'lab.write',
  summary: 'Add a bottle of titrant with its strength',
  body: z.strictObject({
    reagent: TitrantReagent,
    label: Line(60),
    expiresOn: Day.nullable(),
    notes: Text(1000),
    ...strength,
  }),
  reply: TitrantLot,
  status: 201,
});
export const updateTitrant = defineCommand({
  name: 'updateTitrant',
  tags: ['lab'],
  method: 'PUT',
  path: '/titrants/:id',
  access: 'lab.write',
  summary: 'Change expiry and notes of a bottle, or finish it',
  params: { id: PathId },
  body: z.strictObject({ expiresOn: Day.nullable(), notes: Text(1000), finished: z.boolean() }),
  reply: TitrantLot,
  versioned: true,
});
export const standardiseTitrant = defineCommand({
  name: 'standardiseTitrant',
  tags: ['lab'],
  path: '/titrants/:id/standardisations',
  access: 'lab.write',
  summary:
    'Standardise a bottle anew, or correct a strength: then the analyses that used it are computed again and superseded',
  params: { id: PathId },
  body: z.strictObject({
    ...strength,
    /** The concentration was wrong; null for a new standardisation. */
    replacesId: Id.nullable(),
    reason: Text(500),
  }),
  reply: z.object({
    titrant: TitrantLot,
    /** The new analyses, with the number of the one each supersedes. */
    recomputed: z.array(z.object({ id: Id, number: z.string(), supersedes: z.string() })),
  }),
  status: 201,
});
