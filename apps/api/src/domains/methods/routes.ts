import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { decodeCursor, toPage } from '../../http/cursor.ts';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import { addInstrument, changeInstrument } from './instruments.ts';
import * as instrumentQueries from './instrument-queries.ts';
import { changeMethod, createMethod, putMethodInForce, reviseMethod } from './methods.ts';
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

  mount(app, contract.listMethods, async ({ query }) => {
    const { after, limit = 50, status = 'in-force', search } = query;
    const rows = await queries.readMethods(db.run, { search, status, after: afterRevision(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code, row.revision] });
    return { items: items.map(queries.toMethod), next };
  });
  mount(app, contract.getMethod, async ({ params }) => {
    const method = queries.toMethod(
      found(await queries.readMethod(db.run, params.id), `method ${params.id}`),
    );
    const revisions = await queries.readRevisions(db.run, method.code);
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
  mount(app, contract.createMethod, ({ actor, body }) => createMethod(db, { actor, input: body }));
  mount(app, contract.reviseMethod, ({ actor, params, body }) =>
    reviseMethod(db, { actor, id: params.id, changeNote: body.changeNote }),
  );
  mount(app, contract.updateMethod, ({ actor, params, version, body }) =>
    changeMethod(db, { actor, id: params.id, version, input: body }),
  );
  mount(app, contract.putMethodInForce, ({ actor, params, version }) =>
    putMethodInForce(db, { actor, id: params.id, version }),
  );

  mount(app, contract.listInstruments, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await instrumentQueries.readInstruments(db.run, {
      ...asked,
      after: afterText(after),
      limit,
    });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code] });
    return { items: items.map(instrumentQueries.toInstrument), next };
  });
  mount(app, contract.createInstrument, ({ actor, body }) => addInstrument(db, { actor, input: body }));
  mount(app, contract.updateInstrument, ({ actor, params, version, body }) =>
    changeInstrument(db, { actor, id: params.id, version, input: body }),
  );

  mount(app, contract.listTitrants, async ({ query }) => {
    const { after, limit = 50, finished = 'no' } = query;
    const rows = await titrantQueries.readTitrants(db.run, { finished, after: afterText(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.label] });
    return { items: items.map(titrantQueries.toTitrant), next };
  });
  mount(app, contract.createTitrant, ({ actor, body }) => addTitrant(db, { actor, input: body }));
  mount(app, contract.updateTitrant, ({ actor, params, version, body }) =>
    changeTitrant(db, { actor, id: params.id, version, input: body }),
  );
}
