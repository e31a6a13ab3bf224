import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { decodeCursor, toPage } from '../../http/cursor.ts';
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
    const { sort = 'newest', limit = 50, after, ...filters } = query;
    const cursor = decodeCursor(after, sort === 'due' ? ['string', 'number'] : ['number']);
    const rows = await queries.readOrders(db.run, { ...filters, sort, limit, after: cursor });
    return toPage({ rows, limit, cursorOf: (row) => (sort === 'due' ? [row.dueKey, row.id] : [row.id]) });
  });
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
