import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { inspect } from './inspect.ts';
import { viewInspection } from './lot.ts';
import { resume, setPlan, viewPlan } from './plan.ts';

export default function inspectionPlans(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.getInspectionPlan, ({ params }) => viewPlan(db, params.id));
  registerRoute(app, contract.setInspectionPlan, ({ actor, params, body }) =>
    setPlan(db, { actor, partId: params.id, input: body }),
  );
  registerRoute(app, contract.resumeInspection, ({ actor, params, body }) =>
    resume(db, { actor, partId: params.id, input: body }),
  );
  registerRoute(app, contract.getLotInspection, ({ params }) => viewInspection(db, params.id));
  registerRoute(app, contract.inspectLot, ({ actor, params, body }) =>
    inspect(db, { actor, lotId: params.id, input: body }),
  );
}
