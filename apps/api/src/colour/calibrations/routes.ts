import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { decodeCursor, toPage } from '../../kernel/cursor.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { approvalOf } from '../../core/people/index.ts';
import { approveCalibration, retireCalibration } from './approval.ts';
import { draftRecipe } from './draft-recipe.ts';
import { discardCalibration, reviseCalibration, startCalibration, writeCalibration } from './drafts.ts';
import { readDrifts } from './drift.ts';
import * as queries from './queries.ts';
import { viewReach } from './reach.ts';
import { readCalibration, toItems } from './views.ts';

const afterRevision = (cursor: string | undefined) => {
  const [code, revision] = decodeCursor(cursor, ['string', 'number']) ?? [];
  return typeof code === 'string' && typeof revision === 'number'
    ? { code, revision: Math.trunc(Math.min(Math.max(revision, 0), 2_147_483_647)) }
    : null;
};

export default function calibrations(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listCalibrations, async ({ query }) => {
    const { after, limit = 50, ...asked } = query;
    const rows = await queries.readItems(db.execute, { ...asked, after: afterRevision(after), limit });
    const { items, next } = toPage({ rows, limit, cursorOf: (row) => [row.code, row.revision] });
    return { items: await toItems(db.execute, items), next };
  });
  registerRoute(app, contract.getCalibration, ({ params }) => readCalibration(db.execute, params.id));
  registerRoute(app, contract.getCalibrationDrift, async ({ params: { id } }) => {
    const row = orNotFound(await queries.readRow(db.execute, id), `calibration ${id}`);
    return orNotFound((await readDrifts(db.execute, [row])).get(id), `calibration ${id}`);
  });
  registerRoute(app, contract.createCalibration, ({ actor, body }) =>
    startCalibration(db, { actor, input: body }),
  );
  registerRoute(app, contract.updateCalibration, ({ actor, params, version, body }) =>
    writeCalibration(db, { actor, id: params.id, version, input: body }),
  );
  registerRoute(app, contract.reviseCalibration, ({ actor, params, body }) =>
    reviseCalibration(db, { actor, id: params.id, changeNote: body.changeNote }),
  );
  registerRoute(app, contract.discardCalibration, async ({ actor, params, version }) => {
    await discardCalibration(db, { actor, id: params.id, version });
    return {};
  });
  registerRoute(app, contract.getCalibrationApproval, async ({ actor, params }) => {
    const { writers } = await readCalibration(db.execute, params.id);
    return approvalOf(db, { actor, writers, permission: 'coupons.approve' });
  });
  registerRoute(app, contract.approveCalibration, ({ actor, params, version, body }) =>
    approveCalibration(db, { actor, id: params.id, version, typedName: body.typedName }),
  );
  registerRoute(app, contract.retireCalibration, ({ actor, params, version, body }) =>
    retireCalibration(db, { actor, id: params.id, version, reason: body.reason }),
  );
  registerRoute(app, contract.draftRecipeOfCalibration, ({ actor, params, body }) =>
    draftRecipe(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, contract.getVoltageReach, ({ params }) => viewReach(db, params.id));
}
