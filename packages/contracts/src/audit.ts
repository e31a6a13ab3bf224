import { z } from 'zod';
import { reading } from './http.ts';
import { Instant, PathId, page, listQuery } from './scalars.ts';

/** The kinds of record that keep a history. */
export const RecordKind = z.enum([
  'shop',
  'person',
  'customer',
  'material',
  'part',
  'tank',
  'bath',
  'supply',
  'rack',
  'rate-card',
  'recipe',
  'quotation',
  'order',
  'lot',
  'traveler',
  'step',
  'shipment',
  'chemical',
  'chemical-lot',
  'method',
  'instrument',
  'titrant',
  'analysis',
  'addition',
  'coupons',
]);
export type RecordKind = z.output<typeof RecordKind>;

export const AuditEntry = z
  .object({
    id: z.string(),
    at: Instant,
    personName: z.string(),
    action: z.string(),
    recordKind: RecordKind,
    recordId: z.int(),
    recordNumber: z.string().nullable(),
    changes: z.array(z.object({ field: z.string(), old: z.unknown(), new: z.unknown() })),
    reason: z.string().nullable(),
  })
  .meta({ id: 'AuditEntry' });
export type AuditEntry = z.output<typeof AuditEntry>;

export const listHistory = reading({
  path: '/history/:kind/:id',
  access: 'signed-in',
  summary: 'The history of one record, newest first, for those who may read the record',
  params: { kind: RecordKind, id: PathId },
  query: { after: listQuery.after, limit: listQuery.limit },
  reply: page(AuditEntry),
});
export const listAudit = reading({
  path: '/audit',
  access: 'audit.read',
  summary: 'Every change, newest first',
  query: { ...listQuery, kind: RecordKind.optional() },
  reply: page(AuditEntry),
});
