import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { addChemical, changeChemical } from './chemicals.ts';
import * as lotQueries from './lot-queries.ts';
import { pricedFor } from './prices.ts';
import * as queries from './queries.ts';
import { bookStock, changeLot, receiveLot } from './stock.ts';

const afterCode = (cursor: string | undefined) => {
  const [code] = decodeCursor(cursor, ['string']) ?? [null];
  return typeof code === 'string' ? code : null;
};
const afterId = (cursor: string | undefined) => {
  const [id] = decodeCursor(cursor, ['number']) ?? [null];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
};

export default function chemicals(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listChemicals, async ({ actor, query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readChemicals(db.execute, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code] });
    return { items: items.map((row) => pricedFor(actor, queries.toChemical(row))), next };
  });
  registerRoute(app, contract.exportChemicals, async ({ actor, query, reply }) => {
    const rows = await queries.readChemicals(db.execute, { ...query, after: null, limit: csvLimit });
    return csvFile(reply, {
      name: 'chemicals',
      heads: [
        'code',
        'name',
        'formula',
        'form',
        'assayMassFraction',
        'balanceKg',
        'reorderPointKg',
        'pricePerKg',
        'supplier',
      ],
      rows: rows.map((row) => [
        ...[row.code, row.name, row.formula, row.form, row.assayMassFraction, row.balanceKg],
        ...[row.reorderPointKg, pricedFor(actor, row).pricePerKg, row.supplier],
      ]),
    });
  });
  registerRoute(app, contract.getChemical, async ({ actor, params }) => ({
    chemical: pricedFor(
      actor,
      queries.toChemical(
        orNotFound(await queries.readChemical(db.execute, params.id), `chemical ${params.id}`),
      ),
    ),
    lots: (await lotQueries.readLots(db.execute, params.id)).map((row) =>
      pricedFor(actor, lotQueries.toLot(row)),
    ),
  }));
  registerRoute(app, contract.createChemical, async ({ actor, body }) =>
    pricedFor(actor, await addChemical(db, { actor, input: body })),
  );
  registerRoute(app, contract.updateChemical, async ({ actor, params, version, body }) =>
    pricedFor(actor, await changeChemical(db, { actor, id: params.id, version, input: body })),
  );

  registerRoute(app, contract.listChemicalLots, async ({ actor, query }) => ({
    items: (await lotQueries.readUsableLots(db.execute, query)).map((row) =>
      pricedFor(actor, lotQueries.toLot(row)),
    ),
  }));
  registerRoute(app, contract.receiveChemicalLot, async ({ actor, params, body }) =>
    pricedFor(actor, await receiveLot(db, { actor, chemicalId: params.id, input: body })),
  );
  registerRoute(app, contract.updateChemicalLot, async ({ actor, params, version, body }) =>
    pricedFor(actor, await changeLot(db, { actor, id: params.id, version, input: body })),
  );
  registerRoute(app, contract.adjustStock, async ({ actor, params, body }) =>
    pricedFor(actor, await bookStock(db, { actor, id: params.id, input: body })),
  );
  registerRoute(app, contract.getStockLedger, async ({ params, query }) => {
    orNotFound(await lotQueries.readLot(db.execute, params.id), `chemical lot ${params.id}`);
    const { limit = 50 } = query;
    const rows = await lotQueries.readMovements(db.execute, {
      lotId: params.id,
      before: afterId(query.after),
      limit,
    });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map((row) => ({ ...row, at: row.at.toISOString() })), next };
  });
}
