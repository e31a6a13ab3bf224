import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { CSV_PAGE, streamCsv } from '../../http/stream-csv.ts';
import { toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { acceptQuotation } from './accept.ts';
import * as orders from './orders.ts';
import { readOrders } from './list-queries.ts';

/** `lineChanged` carries a changed line to the lots on the floor above. */
export default function orderRoutes(
  app: FastifyInstance,
  { lineChanged }: { lineChanged: orders.LineChanged },
): void {
  const { db } = app;
  const readPage = async (asked: Parameters<typeof readOrders>[1]) =>
    toPage({
      rows: await readOrders(db.execute, asked),
      limit: asked.limit,
      cursorOf: (row) => [asked.sort?.endsWith('due') ? row.dueKey : row.id, row.id],
    });
  registerRoute(app, contract.listOrders, ({ query }) => readPage({ ...query, limit: query.limit ?? 50 }));
  registerRoute(app, contract.exportOrders, ({ query, reply }) =>
    Promise.resolve(
      streamCsv(reply, {
        name: 'orders',
        heads: [
          ...['number', 'customer', 'customerOrderNumber', 'status', 'lines', 'pieces', 'shipped'],
          ...['total', 'currency', 'dueDate', 'createdAt'],
        ],
        read: (after) => readPage({ ...query, after, limit: CSV_PAGE }),
        linesOf: (row) => [
          [
            ...[row.number, row.customer.name, row.customerOrderNumber, row.status, row.lineCount],
            ...[row.pieces, row.shipped, row.total, row.currency, row.dueDate, row.createdAt],
          ],
        ],
      }),
    ),
  );
  registerRoute(app, contract.getOrder, ({ params }) => orders.readWhole(db, params.id));
  registerRoute(app, contract.createOrder, ({ actor, body }) =>
    orders.createOrder(db, { actor, input: body }),
  );
  registerRoute(app, contract.acceptQuotation, ({ actor, params, body }) =>
    acceptQuotation(db, { actor, quotationId: params.id, input: body }),
  );
  registerRoute(app, contract.updateOrder, ({ actor, params, version, body }) =>
    orders.changeOrderHead(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.updateOrderLine, ({ actor, params, version, body }) =>
    orders.changeOrderLine(db, { actor, id: params.id, version, input: body, lineChanged }),
  );
  registerRoute(app, contract.receivePieces, ({ actor, params, version, body }) =>
    orders.recordReceipt(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.correctReceivedCount, ({ actor, params, version, body }) =>
    orders.correctReceipt(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.cancelOrderLine, ({ actor, params, version, body }) =>
    orders.cancelOrderLine(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.cancelOrder, ({ actor, params, version, body }) =>
    orders.cancelOrder(db, { actor, id: params.id, version, input: body }),
  );
}
