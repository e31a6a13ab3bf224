import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { setBathSetup } from '../baths/index.ts';
import { viewAnalysisSheet, viewBath, viewBoard } from './bath-page.ts';

export default function dashboard(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.listBathBoard, ({ query }) => viewBoard(db.execute, query));
  registerRoute(app, contract.getBathPage, ({ actor, params }) =>
    viewBath(db.execute, { actor, id: params.id }),
  );
  registerRoute(app, contract.setBathSetup, async ({ actor, params, version, body }) => {
    await setBathSetup(db, { actor, bathId: params.id, version, input: body });
    return viewBath(db.execute, { actor, id: params.id });
  });
  registerRoute(app, contract.getAnalysisSheet, ({ params }) => viewAnalysisSheet(db.execute, params.id));
}
