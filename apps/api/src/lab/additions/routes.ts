import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { actorMay } from '../../kernel/actor.ts';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { redactCosts, summaryFor } from './costs.ts';
import { correctAddition, completeAddition } from './done.ts';
import { planAddition, withdrawAddition } from './plan.ts';
import * as queries from './queries.ts';
import { toSummary, viewAddition, viewSheet } from './view.ts';

const beforePlan = (cursor: string | undefined) => {
  const [plannedAt, id] = decodeCursor(cursor, ['string', 'number']) ?? [];
  return typeof plannedAt === 'string' && !Number.isNaN(Date.parse(plannedAt)) && typeof id === 'number'
    ? {
        plannedAt: new Date(plannedAt).toISOString(),
        id: Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)),
      }
    : null;
};

export default function additions(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.getAdditionSheet, ({ params }) => viewSheet(db.execute, params.id));
  registerRoute(app, contract.planBathAddition, ({ actor, params, version, body }) =>
    planAddition(db, { actor, bathId: params.id, version, input: body }),
  );
  registerRoute(app, contract.withdrawAddition, ({ actor, params, body }) =>
    withdrawAddition(db, { actor, id: params.id, reason: body.reason }),
  );
  registerRoute(app, contract.completeAddition, async ({ actor, params, body }) =>
    redactCosts(actor, await completeAddition(db, { actor, id: params.id, input: body })),
  );
  registerRoute(app, contract.correctAddition, async ({ actor, params, body }) =>
    redactCosts(actor, await correctAddition(db, { actor, id: params.id, input: body })),
  );
  registerRoute(app, contract.getAddition, async ({ actor, params }) =>
    redactCosts(actor, await viewAddition(db.execute, params.id)),
  );
  registerRoute(app, contract.listAdditions, async ({ actor, query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readAdditions(db.execute, { ...asked, before: beforePlan(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.plannedAt.toISOString(), row.id] });
    return { items: items.map((row) => summaryFor(actor, toSummary(row))), next };
  });
  registerRoute(app, contract.exportAdditions, async ({ actor, query, reply }) => {
    const rows = await queries.readAdditions(db.execute, { ...query, before: null, limit: csvLimit });
    return csvFile(reply, {
      name: 'additions',
      heads: [
        ...[
          'number',
          'tank',
          'bath',
          'kind',
          'state',
          'finishedAt',
          'doneBy',
          'checkedBy',
          'action',
          'chemical',
        ],
        ...['supplierLot', 'kg', 'volumeL', 'cost', 'wasteCategory', 'wasteDocument'],
      ],
      rows: rows.flatMap((row) =>
        row.lines.map((line) => [
          ...[row.number, row.bath.tankCode, row.bath.number, row.kind, queries.stateOf(row)],
          ...[row.finishedAt?.toISOString() ?? null, row.doneBy, row.checkedBy, line.action],
          ...[line.chemical?.code, line.chemical?.supplierLot, line.kg, line.volumeL],
          actorMay(actor, 'rates.read') ? line.cost : null,
          ...[line.waste?.category, line.waste?.document],
        ]),
      ),
    });
  });
}
