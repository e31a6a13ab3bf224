import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readTank, readTanks } from '../../catalog/equipment/index.ts';
import { addTank, changeTank, viewTank, viewTanks } from './tanks.ts';

/** A whole list is written out at once: no shop has this many tanks. */
const everything = 10_000;

const afterPlace = (cursor: string | undefined) => {
  const [lineOrder, code] = decodeCursor(cursor, ['number', 'string']) ?? [];
  return typeof lineOrder === 'number' && typeof code === 'string'
    ? { lineOrder: Math.trunc(Math.min(lineOrder, 1e9)), code }
    : null;
};
export default function tanks(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listTanks, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await readTanks(db, { ...asked, after: afterPlace(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.lineOrder, row.code] });
    return { items: await viewTanks(db.execute, items), next };
  });
  registerRoute(app, contract.exportTanks, async ({ query, reply }) => {
    const rows = await readTanks(db, { ...query, after: null, limit: everything });
    return csvFile(reply, {
      name: 'tanks',
      heads: [
        ...['code', 'name', 'kind', 'contents', 'insideLengthMm', 'insideWidthMm', 'insideDepthMm'],
        ...['workingVolumeL', 'heaterKw', 'coolerKw', 'cover', 'temperatureMinC', 'temperatureMaxC', 'bath'],
      ],
      rows: rows.map((row) => [
        ...[row.code, row.name, row.kind, row.contents],
        ...[row.insideLengthMm, row.insideWidthMm, row.insideDepthMm, row.workingVolumeL],
        ...[row.heaterKw, row.coolerKw, row.cover, row.temperatureMinC, row.temperatureMaxC],
        row.baths[0]?.number ?? null,
      ]),
    });
  });
  registerRoute(app, contract.getTank, async ({ params }) =>
    viewTank(db.execute, orNotFound(await readTank(db, params.id), `tank ${params.id}`)),
  );
  registerRoute(app, contract.createTank, ({ actor, body }) => addTank(db, { actor, input: body }));
  registerRoute(app, contract.updateTank, ({ actor, params, version, body }) =>
    changeTank(db, { actor, id: params.id, version, input: body }),
  );
}
