import { z } from 'zod';
import { defineQuery } from '../kernel/http.ts';
import { Csv, Day, Instant, PathId, page, listQuery } from '../kernel/scalars.ts';

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
  'exchange-rate',
  'recipe',
  'enquiry',
  'quotation',
  'order',
  'lot',
  'traveler',
  'step',
  'shipment',
  'certificate',
  'delivery-note',
  'invoice',
  'nonconformance',
  'impact-assessment',
  'chemical',
  'chemical-lot',
  'method',
  'instrument',
  'titrant',
  'analysis',
  'addition',
  'coupons',
  'calibration',
  'trial-run',
  'polarization-scan',
  'film-measurement',
  'exposure-test',
  'colour-standard',
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

export const listHistory = defineQuery({
  name: 'listHistory',
  tags: ['core'],
  path: '/history/:kind/:id',
  access: 'signed-in',
  summary: 'The history of one record, newest first, for those who may read the record',
  params: { kind: RecordKind, id: PathId },
  query: { after: listQuery.after, limit: listQuery.limit },
  reply: page(AuditEntry),
});
const auditFilters = {
  /** In the person's name, the action or the number of the record. */
  search: listQuery.search,
  kind: RecordKind.optional(),
  personId: PathId.optional(),
  /** Days in the shop's time zone, both included. */
  from: Day.optional(),
  to: Day.optional(),
};
export const listAudit = defineQuery({
  name: 'listAudit',
  tags: ['core'],
  path: '/audit',
  access: 'audit.read',
  summary: 'Every change, newest first',
  searches: true,
  query: { after: listQuery.after, limit: listQuery.limit, ...auditFilters },
  reply: page(AuditEntry),
});
export const exportAudit = defineQuery({
  name: 'exportAudit',
  tags: ['core'],
  path: '/audit.csv',
  access: 'audit.read',
  summary: 'The audit trail as CSV, newest first',
  query: auditFilters,
  reply: Csv,
});
