import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { csvFile, csvLimit } from '../../http/csv.ts';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { approvalOf } from '../../core/people/index.ts';
import { approveStandard, retireStandard } from './approval.ts';
import { confirmStandard } from './confirm.ts';
import { discardStandard, reviseStandard, startStandard, writeStandard } from './drafts.ts';
import * as queries from './queries.ts';
import { readColourStandard, readStandardRevision, toItem } from './views.ts';

const afterRevision = (cursor: string | undefined) => {
  const [code, revision] = decodeCursor(cursor, ['string', 'number']) ?? [];
  return typeof code === 'string' && typeof revision === 'number'
    ? { code, revision: Math.trunc(Math.min(Math.max(revision, 0), 2_147_483_647)) }
    : null;
};

export default function colourStandards(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listColourStandards, async ({ query }) => {
    const { after, limit = 50, ...filter } = query;
    const rows = await queries.readItems(db.execute, { ...filter, after: afterRevision(after), limit });
    const { items, next } = toPage({
      rows,
      limit,
      cursorOf: ({ colour }) => [colour.code, colour.revision],
    });
    return { items: items.map(toItem), next };
  });
  registerRoute(app, contract.exportColourStandards, async ({ query, reply }) => {
    const rows = await queries.readItems(db.execute, { ...query, after: null, limit: csvLimit });
    return csvFile(reply, {
      name: 'colour-standards',
      heads: [
        ...['code', 'revision', 'status', 'name', 'customer', 'grade', 'L', 'a', 'b', 'toleranceDeltaE00'],
        ...['sample', 'keptAt', 'agreedBy', 'agreedOn', 'expiresOn', 'approvedAt'],
      ],
      rows: rows.map(({ colour, customer, approvedAt }) => [
        ...[colour.code, colour.revision, colour.status, colour.name, customer?.name, colour.grade],
        ...[colour.target?.L, colour.target?.a, colour.target?.b, colour.tolerance?.deltaE],
        ...[colour.sample?.name, colour.sample?.keptAt, colour.agreedBy, colour.agreedOn],
        ...[colour.expiresOn, approvedAt?.toISOString()],
      ]),
    });
  });
  registerRoute(app, contract.getColourStandard, ({ params, query }) =>
    readColourStandard(db.execute, { id: params.id, revision: query.revision }),
  );
  registerRoute(app, contract.createColourStandard, ({ actor, body }) =>
    startStandard(db, { actor, input: body }),
  );
  registerRoute(app, contract.updateColourStandard, ({ actor, params, version, body }) =>
    writeStandard(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.reviseColourStandard, ({ actor, params, body }) =>
    reviseStandard(db, { actor, id: params.id, changeNote: body.changeNote }),
  );
  registerRoute(app, contract.discardColourStandard, async ({ actor, params, version }) => {
    await discardStandard(db, { actor, id: params.id, version });
    return {};
  });
  registerRoute(app, contract.getColourStandardApproval, async ({ actor, params }) => {
    const { writers } = await readStandardRevision(db.execute, params.id);
    return approvalOf(db, { actor, writers, permission: 'standards.approve' });
  });
  registerRoute(app, contract.approveColourStandard, ({ actor, params, version, body }) =>
    approveStandard(db, { actor, id: params.id, version, typedName: body.typedName }),
  );
  registerRoute(app, contract.confirmColourStandard, ({ actor, params, version, body }) =>
    confirmStandard(db, { actor, id: params.id, version, grounds: body.grounds }),
  );
  registerRoute(app, contract.retireColourStandard, ({ actor, params, version, body }) =>
    retireStandard(db, { actor, id: params.id, version, reason: body.reason }),
  );
}
