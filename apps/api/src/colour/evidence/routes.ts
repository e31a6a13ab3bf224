import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readPeopleWithPin } from '../../core/people/index.ts';
import { carry } from './carry.ts';
import { citeSeries, uncite, withdraw } from './cite.ts';
import { judgeEvidence } from './judge.ts';
import * as queries from './queries.ts';
import { readRecipeEvidence } from './view.ts';

export default function evidence(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.getRecipeEvidence, ({ params }) => readRecipeEvidence(db.execute, params.id));
  registerRoute(app, contract.getEvidenceVerdict, async ({ params }) => {
    const [revision] = await queries.readRevisions(db.execute, [params.id]);
    orNotFound(revision, `recipe revision ${params.id}`);
    const [verdict] = await judgeEvidence(db.execute, [
      { recipeRevisionId: params.id, materialId: params.materialId, partId: null },
    ]);
    return orNotFound(verdict, `material ${params.materialId}`);
  });
  registerRoute(app, contract.citeCouponSeries, ({ actor, params, body }) =>
    citeSeries(db, { actor, revisionId: params.id, input: body }),
  );
  registerRoute(app, contract.carryEvidence, ({ actor, params }) =>
    carry(db, { actor, revisionId: params.id }),
  );
  registerRoute(app, contract.removeEvidence, async ({ actor, params }) => {
    await uncite(db, { actor, id: params.id });
    return {};
  });
  registerRoute(app, contract.withdrawEvidence, ({ actor, params, body }) =>
    withdraw(db, { actor, id: params.id, reason: body.reason }),
  );
  registerRoute(app, contract.listEvidenceApprovers, async () => ({
    items: await readPeopleWithPin(db, contract.permissions['evidence.override']),
  }));
}
