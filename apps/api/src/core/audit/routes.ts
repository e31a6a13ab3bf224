import {
  exportAudit,
  listAudit,
  listHistory,
  may,
  permissionLabels,
  type Access,
  type RecordKind,
  type Role,
} from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import type { Cell } from '../../http/csv.ts';
import { CSV_PAGE, streamCsv } from '../../http/stream-csv.ts';
import { registerRoute } from '../../http/route.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { readAudit, type AuditRow } from './queries.ts';

/** Whoever may read a record may read its history. */
const readers: Record<RecordKind, Exclude<Access, 'anyone'>> = {
  shop: 'signed-in',
  person: 'people.read',
  customer: 'customers.read',
  material: 'materials.read',
  part: 'parts.read',
  tank: 'tanks.read',
  bath: 'tanks.read',
  supply: 'tanks.read',
  rack: 'tanks.read',
  'rate-card': 'rates.read',
  'exchange-rate': 'rates.read',
  recipe: 'recipes.read',
  enquiry: 'enquiries.read',
  quotation: 'quotations.read',
  order: 'orders.read',
  lot: 'lots.read',
  traveler: 'lots.read',
  step: 'lots.read',
  shipment: 'lots.read',
  certificate: 'orders.read',
  'delivery-note': 'orders.read',
  invoice: 'invoices.read',
  nonconformance: 'lots.read',
  'impact-assessment': 'trace.read',
  chemical: 'lab.read',
  'chemical-lot': 'lab.read',
  method: 'lab.read',
  instrument: 'lab.read',
  titrant: 'lab.read',
  analysis: 'lab.read',
  addition: 'lab.read',
  coupons: 'lab.read',
  calibration: 'lab.read',
  'trial-run': 'lab.read',
  'polarization-scan': 'lab.read',
  'film-measurement': 'lab.read',
  'exposure-test': 'lab.read',
  'colour-standard': 'standards.read',
};

const pageOf = (rows: AuditRow[], limit: number) => {
  const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
  return { items: items.map((row) => ({ ...row, at: row.at.toISOString() })), next };
};
const before = (after: string | undefined) => {
  const value = decodeCursor(after, ['string'])?.[0];
  return typeof value === 'string' && /^\d{1,18}$/.test(value) ? value : null;
};

/** Fields that begin with `internal` show rates, or what is said only among those who see them. */
const redactRates = (roles: readonly Role[], rows: AuditRow[]): AuditRow[] =>
  may(roles, 'rates.read')
    ? rows
    : rows.map((row) => ({
        ...row,
        changes: row.changes.filter(({ field }) => !field.startsWith('internal')),
      }));

export default function audit(app: FastifyInstance): void {
  registerRoute(app, listHistory, async ({ actor, params, query }) => {
    const needed = readers[params.kind];
    if (needed !== 'signed-in' && !may(actor.roles, needed)) {
      throw new DomainError(
        'not-allowed',
        `None of your roles may see this history. It takes: ${permissionLabels[needed]}.`,
      );
    }
    const limit = query.limit ?? 50;
    const rows = await readAudit(app.db.execute, { ...params, before: before(query.after), limit });
    return pageOf(redactRates(actor.roles, rows), limit);
  });
  registerRoute(app, listAudit, async ({ actor, query }) => {
    const limit = query.limit ?? 50;
    const rows = await readAudit(app.db.execute, { ...query, before: before(query.after), limit });
    return pageOf(redactRates(actor.roles, rows), limit);
  });
  registerRoute(app, exportAudit, ({ actor, query, reply }) =>
    Promise.resolve(
      streamCsv(reply, {
        name: 'audit-trail',
        heads: ['at', 'person', 'action', 'record', 'number', 'reason', 'field', 'old', 'new'],
        read: async (after) => {
          const asked = { ...query, before: before(after), limit: CSV_PAGE };
          const rows = redactRates(actor.roles, await readAudit(app.db.execute, asked));
          return toPage({ rows, limit: CSV_PAGE, cursorOf: (row) => [row.id] });
        },
        linesOf: csvRows,
      }),
    ),
  );
}

/** A line for each changed field, one at least. */
function csvRows(row: AuditRow): Cell[][] {
  const { at, personName, action, recordKind, recordNumber, reason, changes } = row;
  const entry = [at.toISOString(), personName, action, recordKind, recordNumber, reason];
  if (changes.length === 0) return [entry];
  return changes.map((change) => [...entry, change.field, cellOf(change.old), cellOf(change.new)]);
}
const cellOf = (value: unknown): Cell =>
  typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean' || value === null
    ? value
    : JSON.stringify(value);
