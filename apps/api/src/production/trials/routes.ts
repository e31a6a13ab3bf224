import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import * as floor from './floor.ts';
import { permitTrialRun } from './override.ts';
import { planTrialRun, withdrawTrialRun } from './plan.ts';
import * as queries from './queries.ts';
import { landTrials, signTrial } from './sign.ts';
import { readTrialRun, toItem } from './view.ts';

const afterId = (cursor: string | undefined) => {
  const [id] = decodeCursor(cursor, ['number']) ?? [];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
};

export default function trials(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.listTrialRuns, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readRuns(db.execute, { ...asked, after: afterId(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: ({ id }) => [id] });
    return { items: items.map(toItem), next };
  });
  registerRoute(app, contract.getTrialRun, ({ params }) => readTrialRun(db.execute, params.id));
  registerRoute(app, contract.planTrialRun, ({ actor, body }) => planTrialRun(db, { actor, input: body }));
  registerRoute(app, contract.withdrawTrialRun, ({ actor, params, body }) =>
    withdrawTrialRun(db, { actor, id: params.id, reason: body.reason }),
  );
  registerRoute(app, contract.landTrialRun, ({ actor, params }) => landTrials(db, { actor, id: params.id }));
  registerRoute(app, contract.permitTrialRun, ({ actor, params, body }) =>
    permitTrialRun(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.takeTrialIn, ({ actor, params, body }) =>
    floor.takeTrialIn(db, { actor, id: params.id, ...body }),
  );
  registerRoute(app, contract.liftTrialStrip, ({ actor, params, body }) =>
    floor.liftTrialStrip(db, { actor, id: params.id, ...body }),
  );
  registerRoute(app, contract.pauseTrialRun, ({ actor, params, body }) =>
    floor.pauseTrialRun(db, { actor, id: params.id, ...body }),
  );
  registerRoute(app, contract.resumeTrialRun, ({ actor, params, body }) =>
    floor.resumeTrialRun(db, { actor, id: params.id, ...body }),
  );
  registerRoute(app, contract.addTrialReading, ({ actor, params, body: { agoS, ...reading } }) =>
    floor.noteTrialReading(db, { actor, id: params.id, agoS, reading }),
  );
  registerRoute(app, contract.takeTrialOut, ({ actor, params, body }) =>
    floor.takeTrialOut(db, { actor, id: params.id, ...body }),
  );
  registerRoute(app, contract.resetTrialRun, ({ actor, params }) =>
    floor.resetTrialRun(db, { actor, id: params.id }),
  );
  registerRoute(app, contract.signTrialRun, ({ actor, params, body }) =>
    signTrial(db, { actor, id: params.id, input: body }),
  );
}
