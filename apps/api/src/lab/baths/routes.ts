import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readTank } from '../../catalog/equipment/index.ts';
import { dumpBath, startBath } from './fills.ts';
import * as holdQueries from './hold-queries.ts';
import { placeHold, releaseHold } from './holds.ts';
import * as queries from './queries.ts';
import { askAnalysis, closeRequest } from './requests.ts';
import { readSetupHistory } from './setup-queries.ts';

const afterId = (cursor: string | undefined) => {
  const [id] = decodeCursor(cursor, ['number']) ?? [null];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
};

export default function baths(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listBaths, async ({ params, query }) => {
    const { after, limit = 20 } = query;
    orNotFound(await readTank(db, params.id), `tank ${params.id}`);
    const rows = await queries.readBaths(db.execute, { tankId: params.id, before: afterId(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map(queries.toBath), next };
  });
  registerRoute(app, contract.startBath, ({ actor, params, body }) =>
    startBath(db, { actor, tankId: params.id, ...body }),
  );
  registerRoute(app, contract.dumpBath, ({ actor, params, version, body }) =>
    dumpBath(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.listBathSetups, async ({ params }) => {
    orNotFound(await queries.readBath(db.execute, params.id), `bath ${params.id}`);
    return { items: await readSetupHistory(db.execute, params.id) };
  });
  registerRoute(app, contract.listBathHolds, async ({ params, query }) => {
    const { after, limit = 20 } = query;
    orNotFound(await queries.readBath(db.execute, params.id), `bath ${params.id}`);
    const rows = await holdQueries.readHolds(db.execute, {
      bathId: params.id,
      before: afterId(after),
      limit,
    });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map(holdQueries.toHold), next };
  });
  registerRoute(app, contract.placeBathHold, ({ actor, params, body }) =>
    placeHold(db, { actor, bathId: params.id, input: body }),
  );
  registerRoute(app, contract.releaseBathHold, ({ actor, params, body }) =>
    releaseHold(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.requestAnalysis, ({ actor, params, body }) =>
    askAnalysis(db, { actor, bathId: params.id, input: body }),
  );
  registerRoute(app, contract.closeAnalysisRequest, ({ actor, params, body }) =>
    closeRequest(db, { actor, id: params.id, reason: body.reason }),
  );
}
