import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import * as lots from './lots.ts';
import { planLine } from './plan.ts';
import { readLineFacts } from './plan-queries.ts';
import * as queries from './queries.ts';
import { release } from './release.ts';

export default function lotRoutes(app: FastifyInstance): void {
  const { db } = app;
  mount(app, contract.listLots, async ({ query }) => {
    const { limit = 50, sort } = query;
    const rows = await queries.readLots(db.run, { ...query, limit });
    return toPage({
      rows,
      limit,
      cursorOf: (row) => [sort?.endsWith('due') ? row.dueDate : row.id, row.id],
    });
  });
  mount(app, contract.exportLots, async ({ query, reply }) =>
    csvFile(reply, {
      name: 'lots',
      heads: [
        ...['number', 'status', 'onHold', 'customer', 'order', 'part', 'revision', 'recipe', 'pieces'],
        ...['signedSteps', 'steps', 'nextStep', 'dueDate', 'createdAt'],
      ],
      rows: (await queries.readLots(db.run, { ...query, limit: csvLimit })).map((row) => [
        ...[row.number, row.status, row.held, row.customer.name, row.orderNumber],
        ...[row.part.number, row.part.revision, row.recipeName, row.quantity],
        ...[row.signedSteps, row.steps, row.nextStep, row.dueDate, row.createdAt],
      ]),
    }),
  );
  mount(app, contract.getLot, ({ params }) => lots.readWhole(db, params.id));
  mount(app, contract.planLoads, async ({ params, query }) =>
    planLine(found(await readLineFacts(db.run, params.id), `order line ${params.id}`), query),
  );
  mount(app, contract.releaseLots, async ({ actor, params, body }) => ({
    lots: await release(db, { actor, lineId: params.id, input: body }),
  }));
  mount(app, contract.placeHold, ({ actor, params, body, once }) =>
    lots.hold(db, { actor, id: params.id, input: body, once }),
  );
  mount(app, contract.releaseHold, ({ actor, params, body }) =>
    lots.unhold(db, { actor, id: params.id, input: body }),
  );
  mount(app, contract.cancelLot, ({ actor, params, version, body }) =>
    lots.cancel(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.reissueTraveler, ({ actor, params, body }) =>
    lots.reissue(db, { actor, lotId: params.id, input: body }),
  );
}
