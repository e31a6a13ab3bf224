import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { CSV_PAGE, streamCsv } from '../../http/stream-csv.ts';
import { toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { judgeEvidence } from '../../colour/evidence/index.ts';
import { readCouponUses } from './coupon-uses.ts';
import { readLotEvidence } from './lot-evidence.ts';
import * as lots from './lots.ts';
import { planLine } from './plan.ts';
import { readPlanFacts } from './plan-facts.ts';
import { readLots } from './list-queries.ts';
import { releaseLots } from './release.ts';

export default function lotRoutes(app: FastifyInstance): void {
  const { db } = app;
  const readPage = async (asked: Parameters<typeof readLots>[1]) =>
    toPage({
      rows: await readLots(db.execute, asked),
      limit: asked.limit,
      cursorOf: (row) => [asked.sort?.endsWith('due') ? row.dueDate : row.id, row.id],
    });
  registerRoute(app, contract.listLots, ({ query }) => readPage({ ...query, limit: query.limit ?? 50 }));
  registerRoute(app, contract.exportLots, ({ query, reply }) =>
    Promise.resolve(
      streamCsv(reply, {
        name: 'lots',
        heads: [
          ...['number', 'status', 'onHold', 'customer', 'order', 'part', 'revision', 'recipe', 'pieces'],
          ...['signedSteps', 'steps', 'nextStep', 'dueDate', 'createdAt'],
        ],
        read: (after) => readPage({ ...query, after, limit: CSV_PAGE }),
        linesOf: (row) => [
          [
            ...[row.number, row.status, row.held, row.customer.name, row.orderNumber],
            ...[row.part.number, row.part.revision, row.recipeName, row.quantity],
            ...[row.signedSteps, row.steps, row.nextStep, row.dueDate, row.createdAt],
          ],
        ],
      }),
    ),
  );
  registerRoute(app, contract.getLot, ({ params }) => lots.readWhole(db, params.id));
  registerRoute(app, contract.planLoads, async ({ params, query }) => {
    const facts = orNotFound(await readPlanFacts(db.execute, params.id), `order line ${params.id}`);
    const [evidence] = await judgeEvidence(db.execute, [facts]);
    return { ...planLine(facts, query), evidence: orNotFound(evidence, `order line ${params.id}`) };
  });
  registerRoute(app, contract.listCouponUses, ({ params }) => readCouponUses(db.execute, params.id));
  registerRoute(app, contract.getLotEvidence, ({ params }) => readLotEvidence(db.execute, params.id));
  registerRoute(app, contract.releaseLots, async ({ actor, params, body }) => ({
    lots: await releaseLots(db, { actor, lineId: params.id, input: body }),
  }));
  registerRoute(app, contract.placeHold, ({ actor, params, body }) =>
    lots.placeLotHold(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.releaseHold, ({ actor, params, body }) =>
    lots.releaseLotHold(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.cancelLot, ({ actor, params, version, body }) =>
    lots.cancelLot(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.reissueTraveler, ({ actor, params, body }) =>
    lots.reissueTraveler(db, { actor, lotId: params.id, input: body }),
  );
}
