import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
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

  mount(app, contract.listChemicals, async ({ actor, query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readChemicals(db.run, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code] });
    return { items: items.map((row) => pricedFor(actor, queries.toChemical(row))), next };
  });
  mount(app, contract.exportChemicals, async ({ actor, query, reply }) => {
    const rows = await queries.readChemicals(db.run, { ...query, after: null, limit: csvLimit });
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
  mount(app, contract.getChemical, async ({ actor, params }) => ({
    chemical: pricedFor(
      actor,
      queries.toChemical(found(await queries.readChemical(db.run, params.id), `chemical ${params.id}`)),
    ),
    lots: (await lotQueries.readLots(db.run, params.id)).map((row) =>
      pricedFor(actor, lotQueries.toLot(row)),
    ),
  }));
  mount(app, contract.createChemical, async ({ actor, body }) =>
    pricedFor(actor, await addChemical(db, { actor, input: body })),
  );
  mount(app, contract.updateChemical, async ({ actor, params, version, body }) =>
    pricedFor(actor, await changeChemical(db, { actor, id: params.id, version, input: body })),
  );

  mount(app, contract.listChemicalLots, async ({ actor, query }) => ({
    items: (await lotQueries.readUsableLots(db.run, query)).map((row) =>
      pricedFor(actor, lotQueries.toLot(row)),
    ),
  }));
  mount(app, contract.receiveChemicalLot, async ({ actor, params, body, once }) =>
    pricedFor(actor, await receiveLot(db, { actor, chemicalId: params.id, input: body, once })),
  );
  mount(app, contract.updateChemicalLot, async ({ actor, params, version, body }) =>
    pricedFor(actor, await changeLot(db, { actor, id: params.id, version, input: body })),
  );
  mount(app, contract.adjustStock, async ({ actor, params, body, once }) =>
    pricedFor(actor, await bookStock(db, { actor, id: params.id, input: body, once })),
  );
  mount(app, contract.getStockLedger, async ({ params, query }) => {
    found(await lotQueries.readLot(db.run, params.id), `chemical lot ${params.id}`);
    const { limit = 50 } = query;
    const rows = await lotQueries.readMovements(db.run, {
      lotId: params.id,
      before: afterId(query.after),
      limit,
    });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map((row) => ({ ...row, at: row.at.toISOString() })), next };
  });
}
