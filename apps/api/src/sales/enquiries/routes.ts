import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { toPage } from '../../kernel/cursor.ts';
import { askTrial, declineEnquiry, linkSeries, reopenEnquiry } from './decisions.ts';
import { addEnquiry, changeEnquiry, readEnquiry } from './enquiries.ts';
import * as queries from './queries.ts';

export default function enquiries(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listEnquiries, async ({ query }) => {
    const { limit = 50, after, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after, limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.sortValue, row.id] });
    return { items: items.map(({ sortValue: _, ...item }) => item), next };
  });
  registerRoute(app, contract.exportEnquiries, async ({ query, reply }) => {
    const rows = await queries.readItems(db.execute, { ...query, after: undefined, limit: csvLimit });
    return csvFile(reply, {
      name: 'enquiries',
      heads: [
        ...['number', 'status', 'customer', 'words', 'colour', 'L', 'a', 'b', 'metal', 'quantity', 'dueOn'],
        ...['owner', 'sampleDueBackOn', 'quotation', 'reason', 'createdAt'],
      ],
      rows: rows.map((row) => [
        ...[row.number, row.status, row.customer, row.words, row.colourName],
        ...[row.colour?.L, row.colour?.a, row.colour?.b, row.metal, row.quantity, row.dueOn],
        ...[row.owner, row.sampleDueOn, row.quotation, row.reason, row.createdAt],
      ]),
    });
  });
  registerRoute(app, contract.getEnquiry, ({ params }) => readEnquiry(db, params.id));
  registerRoute(app, contract.createEnquiry, ({ actor, body }) => addEnquiry(db, { actor, input: body }));
  registerRoute(app, contract.updateEnquiry, ({ actor, params, version, body }) =>
    changeEnquiry(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.askTrial, ({ actor, params, version, body }) =>
    askTrial(db, { actor, id: params.id, version, ...body }),
  );
  registerRoute(app, contract.linkTrialSeries, ({ actor, params, version, body }) =>
    linkSeries(db, { actor, id: params.id, version, ...body }),
  );
  registerRoute(app, contract.declineEnquiry, ({ actor, params, version, body }) =>
    declineEnquiry(db, { actor, id: params.id, version, ...body }),
  );
  registerRoute(app, contract.reopenEnquiry, ({ actor, params, version, body }) =>
    reopenEnquiry(db, { actor, id: params.id, version, ...body }),
  );
  registerRoute(app, contract.listEnquiryOwners, async () => ({
    items: await queries.readOwners(db.execute),
  }));
}
