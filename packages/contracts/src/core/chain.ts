import { z } from 'zod';
import { defineQuery, defineCommand } from '../kernel/http.ts';
import { Pdf, Id, Instant, PathId, listQuery, page } from '../kernel/scalars.ts';

/** How far the chain reached, and the digest of its newest entry there. */
export const ChainSeal = z
  .object({
    id: Id,
    position: z.int(),
    /** HMAC-SHA-256 as 64 hexadecimal digits. */
    digest: z.string(),
    /** Position and digest as they are kept, typed and compared. */
    text: z.string(),
    sealedAt: Instant,
    sealedBy: z.string(),
  })
  .meta({ id: 'ChainSeal' });
export type ChainSeal = z.output<typeof ChainSeal>;

export const ChainFault = z.object({
  /** The position in the chain; null for what has no entry. */
  position: z.int().nullable(),
  kind: z.enum(['changed', 'deleted', 'inserted', 'swapped', 'file', 'chain', 'seal']),
  table: z.string(),
  recordId: z.string().nullable(),
  words: z.string(),
});
export type ChainFault = z.output<typeof ChainFault>;

/** What a look at the whole chain found. */
export const ChainVerdict = z.object({
  /** Everything was looked at and nothing is wrong. */
  whole: z.boolean(),
  /** False when time ran out before the end. */
  complete: z.boolean(),
  entries: z.int(),
  files: z.int(),
  head: z.object({ position: z.int(), digest: z.string() }).nullable(),
  faultCount: z.int(),
  /** The first broken place first; no more than 50. */
  faults: z.array(ChainFault),
  /** Stretches that were made with a key that is not at hand. */
  unknownKeys: z.array(z.object({ keyId: z.string(), from: z.int(), to: z.int() })),
});
export type ChainVerdict = z.output<typeof ChainVerdict>;

export const ChainCheck = z
  .object({
    id: Id,
    startedAt: Instant,
    startedBy: z.string(),
    /** A seal that it was compared with. */
    seal: z.string().nullable(),
    state: z.enum(['running', 'done', 'broken-off']),
    /** How far it is, from 0 to 1. */
    done: z.number(),
    finishedAt: Instant.nullable(),
    verdict: ChainVerdict.nullable(),
  })
  .meta({ id: 'ChainCheck' });
export type ChainCheck = z.output<typeof ChainCheck>;

export const ChainState = z
  .object({
    /** Whether entries can be made and compared: the key of the newest entry is at hand. */
    keyAtHand: z.boolean(),
    /** Entries so far. */
    entries: z.int(),
    /** When the newest was made. */
    newestAt: Instant.nullable(),
    /** What was written and waits for its entry. */
    waiting: z.int(),
    /** The newest check. */
    check: ChainCheck.nullable(),
    /** When a check last found everything whole. */
    lastWholeAt: Instant.nullable(),
  })
  .meta({ id: 'ChainState' });
export type ChainState = z.output<typeof ChainState>;

export const getChain = defineQuery({
  name: 'getChain',
  tags: ['core'],
  path: '/chain',
  access: 'audit.read',
  summary:
    'The chain over the audit trail and all that was issued: how far it is, and what the newest check found',
  reply: ChainState,
});
export const startChainCheck = defineCommand({
  name: 'startChainCheck',
  tags: ['core'],
  path: '/chain/checks',
  access: 'audit.read',
  summary: 'Compare every record, attached file and seal with the chain; at most ten minutes, one at a time',
  body: z.object({
    /** A seal that was kept elsewhere, as text. */
    seal: z.string().trim().max(4000).default(''),
  }),
  reply: ChainCheck,
  status: 202,
  keyless: 'one at a time',
  perMinute: 30,
});
export const listChainSeals = defineQuery({
  name: 'listChainSeals',
  tags: ['core'],
  path: '/chain/seals',
  access: 'audit.read',
  summary: 'Seals of the chain, newest first',
  query: { after: listQuery.after, limit: listQuery.limit },
  reply: page(ChainSeal),
});
export const createChainSeal = defineCommand({
  name: 'createChainSeal',
  tags: ['core'],
  path: '/chain/seals',
  access: 'audit.read',
  summary: 'Seal the chain as it is now',
  body: z.object({}),
  reply: ChainSeal,
  status: 201,
  perMinute: 30,
});
export const printChainSeal = defineQuery({
  name: 'printChainSeal',
  tags: ['core'],
  path: '/chain/seals/:id/pdf',
  access: 'audit.read',
  summary: 'A seal as a PDF, to be kept elsewhere',
  params: { id: PathId },
  reply: Pdf,
  perMinute: 120,
});
