import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { changeMethod, createMethod, discardMethodDraft, activateMethod, reviseMethod } from './methods.ts';
import * as queries from './queries.ts';
import * as titrantQueries from './titrant-queries.ts';
import { addTitrant, changeTitrant } from './titrants.ts';

const afterText = (cursor: string | undefined) => {
  const [text] = decodeCursor(cursor, ['string']) ?? [null];
  return typeof text === 'string' ? text : null;
};
const afterRevision = (cursor: string | undefined) => {
  const [code, revision] = decodeCursor(cursor, ['string', 'number']) ?? [];
  return typeof code === 'string' && typeof revision === 'number'
    ? { code, revision: Math.trunc(Math.min(Math.max(revision, 0), 2_147_483_647)) }
    : null;
};

export default function methods(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listMethods, async ({ query }) => {
    const { after, limit = 50, status = 'in-force', search } = query;
    const rows = await queries.readMethods(db.execute, {
      search,
      status,
      after: afterRevision(after),
      limit,
    });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code, row.revision] });
    return { items: items.map(queries.toMethod), next };
  });
  registerRoute(app, contract.getMethod, async ({ params }) => {
    const method = queries.toMethod(
      orNotFound(await queries.readMethod(db.execute, params.id), `method ${params.id}`),
    );
    const revisions = await queries.readRevisions(db.execute, method.code);
    return {
      method,
      revisions: revisions.map(({ id, revision, status, changeNote }) => ({
        id,
        revision,
        status,
        changeNote,
      })),
    };
  });
  registerRoute(app, contract.createMethod, ({ actor, body }) => createMethod(db, { actor, input: body }));
  registerRoute(app, contract.reviseMethod, ({ actor, params, body }) =>
    reviseMethod(db, { actor, id: params.id, changeNote: body.changeNote }),
  );
  registerRoute(app, contract.updateMethod, ({ actor, params, version, body }) =>
    changeMethod(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.discardMethodDraft, async ({ actor, params, version }) => {
    await discardMethodDraft(db, { actor, id: params.id, version });
    return {};
  });
  registerRoute(app, contract.activateMethod, ({ actor, params, version }) =>
    activateMethod(db, { actor, id: params.id, version }),
  );

  registerRoute(app, contract.listTitrants, async ({ query }) => {
    const { after, limit = 50, finished = 'no' } = query;
    const rows = await titrantQueries.readTitrants(db.execute, { finished, after: afterText(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.label] });
    return { items: items.map(titrantQueries.toTitrant), next };
  });
  registerRoute(app, contract.createTitrant, ({ actor, body }) => addTitrant(db, { actor, input: body }));
  registerRoute(app, contract.updateTitrant, ({ actor, params, version, body }) =>
    changeTitrant(db, { actor, id: params.id, version, input: body }),
  );
}
