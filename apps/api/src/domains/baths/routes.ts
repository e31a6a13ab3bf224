import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import { readTank } from '../tanks/index.ts';
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

  mount(app, contract.listBaths, async ({ params, query }) => {
    const { after, limit = 20 } = query;
    found(await readTank(db, params.id), `tank ${params.id}`);
    const rows = await queries.readBaths(db.run, { tankId: params.id, before: afterId(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map(queries.toBath), next };
  });
  mount(app, contract.startBath, ({ actor, params, body }) =>
    startBath(db, { actor, tankId: params.id, notes: body.notes }),
  );
  mount(app, contract.dumpBath, ({ actor, params, version, body }) =>
    dumpBath(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.listBathSetups, async ({ params }) => {
    found(await queries.readBath(db.run, params.id), `bath ${params.id}`);
    return { items: await readSetupHistory(db.run, params.id) };
  });
  mount(app, contract.listBathHolds, async ({ params, query }) => {
    const { after, limit = 20 } = query;
    found(await queries.readBath(db.run, params.id), `bath ${params.id}`);
    const rows = await holdQueries.readHolds(db.run, { bathId: params.id, before: afterId(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map(holdQueries.toHold), next };
  });
  mount(app, contract.placeBathHold, ({ actor, params, body }) =>
    placeHold(db, { actor, bathId: params.id, input: body }),
  );
  mount(app, contract.releaseBathHold, ({ actor, params, body }) =>
    releaseHold(db, { actor, id: params.id, input: body }),
  );
  mount(app, contract.askForAnalysis, ({ actor, params, body }) =>
    askAnalysis(db, { actor, bathId: params.id, input: body }),
  );
  mount(app, contract.closeAnalysisRequest, ({ actor, params, body }) =>
    closeRequest(db, { actor, id: params.id, reason: body.reason }),
  );
}
