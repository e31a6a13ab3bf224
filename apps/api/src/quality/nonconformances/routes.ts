import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { dispose } from './dispose.ts';
import { addEntry, close, reopen } from './entries.ts';
import { open, readSheet } from './open.ts';
import * as queries from './queries.ts';
import { readReworkShare } from './rework-share.ts';
import { readUnusualFactors } from './unusual-factors.ts';
import { view } from './view.ts';

const beforeId = (cursor: string | undefined): number | null => {
  const id = decodeCursor(cursor, ['number'])?.[0];
  return typeof id === 'number' ? Math.trunc(Math.min(Math.max(id, 0), 2_147_483_647)) : null;
};

export default function nonconformances(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.getNonconformanceSheet, ({ actor, params, query }) =>
    readSheet(db, { actor, lotId: params.id, origin: query }),
  );
  registerRoute(app, contract.openNonconformance, ({ actor, params, body }) =>
    open(db, { actor, lotId: params.id, input: body }),
  );
  registerRoute(app, contract.listNonconformances, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: beforeId(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.id] });
    return { items: items.map((row) => ({ ...row, openedAt: row.openedAt.toISOString() })), next };
  });
  registerRoute(app, contract.getNonconformance, ({ actor, params }) => view(db, { actor, id: params.id }));
  registerRoute(app, contract.disposeNonconformance, ({ actor, params, body }) =>
    dispose(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.addNonconformanceEntry, ({ actor, params, body }) =>
    addEntry(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.closeNonconformance, ({ actor, params, body }) =>
    close(db, { actor, id: params.id, text: body.text }),
  );
  registerRoute(app, contract.reopenNonconformance, ({ actor, params, body }) =>
    reopen(db, { actor, id: params.id, text: body.reason }),
  );
  registerRoute(app, contract.getReworkShare, ({ params, query }) =>
    readReworkShare(db.execute, { partId: params.id, ...query }),
  );
  registerRoute(app, contract.getUnusualFactors, ({ params }) => readUnusualFactors(db.execute, params.id));
  registerRoute(app, contract.listActionOwners, async () => ({
    people: await queries.readOwners(db.execute),
  }));
}
