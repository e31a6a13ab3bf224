import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import { addChemical, changeChemical } from './chemicals.ts';
import * as lotQueries from './lot-queries.ts';
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

  mount(app, contract.listChemicals, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readChemicals(db.run, { ...asked, after: afterCode(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code] });
    return { items: items.map(queries.toChemical), next };
  });
  mount(app, contract.exportChemicals, async ({ query, reply }) => {
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
        ...[row.reorderPointKg, row.pricePerKg, row.supplier],
      ]),
    });
  });
  mount(app, contract.getChemical, async ({ params }) => ({
    chemical: queries.toChemical(
      found(await queries.readChemical(db.run, params.id), `chemical ${params.id}`),
    ),
    lots: (await lotQueries.readLots(db.run, params.id)).map(lotQueries.toLot),
  }));
  mount(app, contract.createChemical, ({ actor, body }) => addChemical(db, { actor, input: body }));
  mount(app, contract.updateChemical, ({ actor, params, version, body }) =>
    changeChemical(db, { actor, id: params.id, version, input: body }),
  );

  mount(app, contract.listChemicalLots, async ({ query }) => ({
    items: (await lotQueries.readUsableLots(db.run, query)).map(lotQueries.toLot),
  }));
  mount(app, contract.receiveChemicalLot, ({ actor, params, body, once }) =>
    receiveLot(db, { actor, chemicalId: params.id, input: body, once }),
  );
  mount(app, contract.updateChemicalLot, ({ actor, params, version, body }) =>
    changeLot(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.adjustStock, ({ actor, params, body, once }) =>
    bookStock(db, { actor, id: params.id, input: body, once }),
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
