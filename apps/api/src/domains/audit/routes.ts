import { listAudit, listHistory, may, type Access, type RecordKind } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { Refusal } from '../../refusal.ts';
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
  recipe: 'recipes.read',
  quotation: 'quotations.read',
  order: 'orders.read',
  lot: 'lots.read',
  traveler: 'lots.read',
  step: 'lots.read',
  shipment: 'lots.read',
  chemical: 'lab.read',
  'chemical-lot': 'lab.read',
  method: 'lab.read',
  instrument: 'lab.read',
  titrant: 'lab.read',
  analysis: 'lab.read',
  addition: 'lab.read',
  coupons: 'lab.read',
};

const pageOf = (rows: AuditRow[], limit: number) => {
  const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
  return { items: items.map((row) => ({ ...row, at: row.at.toISOString() })), next };
};
const before = (after: string | undefined) => {
  const value = decodeCursor(after, ['string'])?.[0];
  return typeof value === 'string' && /^\d{1,18}$/.test(value) ? value : null;
};

export default function audit(app: FastifyInstance): void {
  mount(app, listHistory, async ({ actor, params, query }) => {
    const needed = readers[params.kind];
    if (needed !== 'signed-in' && !may(actor.roles, needed)) {
      throw new Refusal('not-allowed', `The history of a ${params.kind} needs the permission ${needed}.`);
    }
    const limit = query.limit ?? 50;
    return pageOf(await readAudit(app.db.run, { ...params, before: before(query.after), limit }), limit);
  });
  mount(app, listAudit, async ({ query }) => {
    const limit = query.limit ?? 50;
    const { kind, search } = query;
    return pageOf(await readAudit(app.db.run, { kind, search, before: before(query.after), limit }), limit);
  });
}
