import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { accept } from './accept.ts';
import * as orders from './orders.ts';
import * as queries from './queries.ts';

/** `lineChanged` carries a changed line to the lots on the floor above. */
export default function orderRoutes(
  app: FastifyInstance,
  { lineChanged }: { lineChanged: orders.LineChanged },
): void {
  const { db } = app;
  mount(app, contract.listOrders, async ({ query }) => {
    const { limit = 50, sort } = query;
    const rows = await queries.readOrders(db.run, { ...query, limit });
    return toPage({
      rows,
      limit,
      cursorOf: (row) => [sort?.endsWith('due') ? row.dueKey : row.id, row.id],
    });
  });
  mount(app, contract.exportOrders, async ({ query, reply }) =>
    csvFile(reply, {
      name: 'orders',
      heads: [
        ...['number', 'customer', 'customerOrderNumber', 'status', 'lines', 'pieces', 'shipped'],
        ...['total', 'currency', 'dueDate', 'createdAt'],
      ],
      rows: (await queries.readOrders(db.run, { ...query, limit: csvLimit })).map((row) => [
        ...[row.number, row.customer.name, row.customerOrderNumber, row.status, row.lineCount],
        ...[row.pieces, row.shipped, row.total, row.currency, row.dueDate, row.createdAt],
      ]),
    }),
  );
  mount(app, contract.getOrder, ({ params }) => orders.readWhole(db, params.id));
  mount(app, contract.createOrder, ({ actor, body }) => orders.create(db, { actor, input: body }));
  mount(app, contract.acceptQuotation, ({ actor, params, body }) =>
    accept(db, { actor, quotationId: params.id, input: body }),
  );
  mount(app, contract.updateOrder, ({ actor, params, version, body }) =>
    orders.change(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.updateOrderLine, ({ actor, params, version, body }) =>
    orders.changeLine(db, { actor, id: params.id, version, input: body, lineChanged }),
  );
  mount(app, contract.receivePieces, ({ actor, params, version, body }) =>
    orders.receive(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.cancelOrderLine, ({ actor, params, version, body }) =>
    orders.cancelLine(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.cancelOrder, ({ actor, params, version, body }) =>
    orders.cancel(db, { actor, id: params.id, version, input: body }),
  );
}
