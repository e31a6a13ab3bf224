import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import * as customers from './customers.ts';
import { mergeCustomer } from './merge.ts';
import { readItems, type ItemRow } from './queries.ts';

const toItem = ({ sortValue: _, createdAt, ...row }: ItemRow) => ({
  ...row,
  createdAt: createdAt.toISOString(),
});

export default function customersDomain(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listCustomers, async ({ query }) => {
    const limit = query.limit ?? 50;
    const rows = await readItems(db.execute, { ...query, limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.sortValue, row.id] });
    return { items: items.map(toItem), next };
  });
  registerRoute(app, contract.exportCustomers, async ({ query, reply }) =>
    csvFile(reply, {
      name: 'customers',
      heads: [
        'number',
        'name',
        'contact',
        'email',
        'phone',
        'currency',
        'parts',
        'openOrders',
        'archived',
        'addedAt',
      ],
      rows: (await readItems(db.execute, { ...query, limit: csvLimit })).map((row) => [
        row.number,
        row.name,
        row.contactName,
        row.email,
        row.phone,
        row.currency,
        row.partCount,
        row.openOrderCount,
        row.archived,
        row.createdAt.toISOString(),
      ]),
    }),
  );
  registerRoute(app, contract.getCustomer, ({ params }) => customers.getCustomer(db, params.id));
  registerRoute(app, contract.createCustomer, ({ actor, body }) =>
    customers.addCustomer(db, { actor, facts: body }),
  );
  registerRoute(app, contract.updateCustomer, ({ actor, params, version, body }) =>
    customers.changeCustomer(db, { actor, id: params.id, version, facts: body }),
  );
  registerRoute(app, contract.archiveCustomer, ({ actor, params }) =>
    customers.setArchived(db, { actor, id: params.id, archived: true }),
  );
  registerRoute(app, contract.unarchiveCustomer, ({ actor, params }) =>
    customers.setArchived(db, { actor, id: params.id, archived: false }),
  );
  registerRoute(app, contract.mergeCustomer, ({ actor, params, version, body }) =>
    mergeCustomer(db, { actor, id: params.id, version, ...body }),
  );
}
