import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { Count, Id, Instant, Line } from '../kernel/scalars.ts';

/** Whether a recipe revision is proved on an alloy in a condition; else the nearest that it is proved on, or nothing. */
export const EvidenceVerdict = z
  .object({
    state: z.enum(['proved', 'nearest', 'none']),
    alloy: z.string(),
    condition: z.string(),
    /** What proves it, or is nearest to it. */
    evidence: z
      .object({
        label: z.string(),
        alloy: z.string(),
        condition: z.string(),
        pieces: Count,
        seriesId: Id.nullable(),
        lotId: Id.nullable(),
      })
      .nullable(),
    /** One sentence: `proved on Carbon steel 1075, hardened (32 coupons); this part is 4140: none`. */
    words: z.string(),
  })
  .meta({ id: 'EvidenceVerdict' });
export type EvidenceVerdict = z.output<typeof EvidenceVerdict>;

/** Where work went on without evidence. */
export const ExceptionPlace = z.enum(['approval', 'quotation', 'release', 'signature']);
export type ExceptionPlace = z.output<typeof ExceptionPlace>;

/** What somebody with the right allowed without evidence. */
export const EvidenceException = z
  .object({
    id: Id,
    place: ExceptionPlace,
    /** The record it was allowed on: a recipe revision, a quotation or a lot. */
    record: z.string(),
    finding: z.string(),
    reason: z.string(),
    by: z.string(),
    askedBy: z.string(),
    at: Instant,
  })
  .meta({ id: 'EvidenceException' });
export type EvidenceException = z.output<typeof EvidenceException>;

/**
 * The word of somebody with the right that work goes on without evidence. `by` is whoever proves it with a PIN on
 * another's screen; null where whoever is signed in says it.
 */
export const UnprovedWord = z.strictObject({
  reason: Line(500),
  by: z.strictObject({ personId: Id, pin: z.string().min(1).max(20) }).nullable(),
});
export type UnprovedWord = z.output<typeof UnprovedWord>;

/** What stands on a paper, a page and a traveler where the colour was promised without evidence. */
export const firstArticleStatement = 'Colour subject to a first article';

export const listEvidenceApprovers = defineQuery({
  name: 'listEvidenceApprovers',
  tags: ['colour'],
  path: '/evidence-approvers',
  access: 'recipes.read',
  summary: 'People who can allow work without evidence with their PIN',
  reply: z.object({ items: z.array(z.object({ id: Id, displayName: z.string() })) }),
});
