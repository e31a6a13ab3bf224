import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { adopt } from './adopt.ts';
import { readGettingStarted } from './checklist.ts';
import { readStarterSet } from './sets.ts';

export default function gettingStarted(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.getGettingStarted, () => readGettingStarted(db.execute));
  registerRoute(app, contract.getStarterSet, ({ params }) => readStarterSet(db.execute, params.set));
  registerRoute(app, contract.adoptStarterSet, ({ actor, params, body }) =>
    adopt(db, { actor, set: params.set, keys: body.keys }),
  );
}
