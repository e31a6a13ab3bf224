import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { Count, Csv, Day, Id, Instant, listQuery, page } from '../kernel/scalars.ts';
import { LotStatus } from '../production/lots.ts';

/** What can turn out to have been wrong, and with it every lot that it touched. */
export const LookBackKind = z.enum([
  'bath',
  'analysis',
  'instrument',
  'titrant',
  'chemical-lot',
  'supply',
  'rack',
  'person',
  'recipe-revision',
]);
export type LookBackKind = z.output<typeof LookBackKind>;

/** `bath-6`: kind and key in one, so that no key is ever looked up as another kind. */
export const LookBackSubject = z
  .string()
  .regex(new RegExp(`^(?:${LookBackKind.options.join('|')})-[1-9]\\d{0,8}$`), 'must look like bath-6');

/** What binds a lot to what was wrong: a step signed with it, or what was believed when a step was signed. */
export const LookBackTie = z.object({
  kind: z.enum(['step', 'analysis', 'addition', 'colour-reading', 'reading', 'evidence']),
  /** Of the analysis, the addition or the recipe that the evidence is behind; of the sign-off or the reading otherwise. */
  id: Id,
  label: z.string(),
  at: Instant,
});
export type LookBackTie = z.output<typeof LookBackTie>;

export const TouchedLot = z.object({
  id: Id,
  number: z.string(),
  customer: z.object({ id: Id, name: z.string() }),
  part: z.string(),
  status: LotStatus,
  held: z.boolean(),
  quantity: Count,
  shippedCount: Count,
  /** Certificates that stand. */
  certificates: z.array(z.object({ id: Id, number: z.string() })),
  ties: z.array(LookBackTie),
});
export type TouchedLot = z.output<typeof TouchedLot>;

const asked = {
  about: LookBackSubject,
  /** Days in the shop's time zone, both included, in which a step was signed or a colour was read. */
  from: Day.optional(),
  to: Day.optional(),
};

export const lookBack = defineQuery({
  name: 'lookBack',
  tags: ['quality'],
  path: '/look-back',
  access: 'trace.read',
  summary: 'Lots that a bath, an instrument or anything else touched, with what binds each to it',
  searches: true,
  query: { after: listQuery.after, limit: listQuery.limit, ...asked },
  reply: page(TouchedLot).extend({
    subject: z.string(),
    totals: z.object({ lots: Count, customers: Count, shippedPieces: Count, certificates: Count }),
  }),
});

export const exportLookBack = defineQuery({
  name: 'exportLookBack',
  tags: ['quality'],
  path: '/look-back.csv',
  access: 'trace.read',
  summary: 'The same as a CSV file, a line for each tie',
  query: asked,
  reply: Csv,
});

/** Analyses are too many to choose from: their own pages lead here. */
export const getLookBackChoices = defineQuery({
  name: 'getLookBackChoices',
  tags: ['quality'],
  path: '/look-back/choices',
  access: 'trace.read',
  summary: 'The newest five hundred of a kind to look back from',
  query: { kind: LookBackKind },
  reply: z.object({ items: z.array(z.object({ subject: LookBackSubject, label: z.string() })) }),
});
