import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import * as chamber from './chamber.ts';
import { observationTable, testTable } from './csv.ts';
import { correctObservation, observe } from './observe.ts';
import { changePlan, planTest, withdrawTest } from './plan.ts';
import * as queries from './queries.ts';
import { endTest, startTest } from './run.ts';
import { readExposureTest, toItems } from './view.ts';

const beforeId = (cursor: string | undefined): number | null => {
  const id = decodeCursor(cursor, ['number'])?.[0];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
};

export default function exposureTests(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listExposureTests, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readTests(db.execute, { ...asked, after: beforeId(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: ({ id }) => [id] });
    return { items: await toItems(db.execute, items), next };
  });
  registerRoute(app, contract.exportExposureTests, async ({ query, reply }) => {
    const rows = await queries.readTests(db.execute, { ...query, after: null, limit: csvLimit });
    return csvFile(reply, testTable(await toItems(db.execute, rows)));
  });
  registerRoute(app, contract.getExposureSheet, () => queries.readSheet(db.execute));
  registerRoute(app, contract.getExposureTest, ({ params }) => readExposureTest(db.execute, params));
  registerRoute(app, contract.exportExposureObservations, async ({ params, reply }) =>
    csvFile(reply, observationTable(await readExposureTest(db.execute, params))),
  );

  registerRoute(app, contract.createExposureTest, ({ actor, body }) => planTest(db, { actor, input: body }));
  registerRoute(app, contract.updateExposureTest, ({ actor, params, version, body }) =>
    changePlan(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.withdrawExposureTest, ({ actor, params, body }) =>
    withdrawTest(db, { actor, ...params, ...body }),
  );
  registerRoute(app, contract.startExposureTest, ({ actor, params, version, body }) =>
    startTest(db, { actor, ...params, version, ...body }),
  );
  registerRoute(app, contract.endExposureTest, ({ actor, params, body }) =>
    endTest(db, { actor, ...params, ...body }),
  );

  registerRoute(app, contract.addExposureObservation, ({ actor, params, body }) =>
    observe(db, { actor, specimenId: params.id, input: body }),
  );
  registerRoute(app, contract.correctExposureObservation, ({ actor, params, body }) =>
    correctObservation(db, { actor, id: params.id, input: body }),
  );

  registerRoute(app, contract.addExposureReading, ({ actor, params, body }) =>
    chamber.keepReading(db, { actor, testId: params.id, input: body }),
  );
  registerRoute(app, contract.correctExposureReading, ({ actor, params, body }) =>
    chamber.correctReading(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.interruptExposureTest, ({ actor, params, body }) =>
    chamber.interrupt(db, { actor, testId: params.id, input: body }),
  );
  registerRoute(app, contract.resumeExposureTest, ({ actor, params, body }) =>
    chamber.resume(db, { actor, ...params, ...body }),
  );
}
