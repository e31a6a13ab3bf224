import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { grant, readBoard, setRule, withdraw } from './competence.ts';
import { allowOutside } from './gate.ts';
import { readJudges } from './queries.ts';

export default function competence(app: FastifyInstance): void {
  const { db } = app;

  registerRoute(app, contract.listCompetence, ({ query }) => readBoard(db.execute, query.personId));
  registerRoute(app, contract.grantCompetence, ({ actor, body }) => grant(db, { actor, input: body }));
  registerRoute(app, contract.withdrawCompetence, ({ actor, params, body }) =>
    withdraw(db, { actor, id: params.id, reason: body.reason }),
  );
  registerRoute(app, contract.setCompetenceRule, ({ actor, version, body }) =>
    setRule(db, { actor, version, on: body.on }),
  );
  registerRoute(app, contract.allowOutsideCompetence, ({ actor, body }) =>
    allowOutside(db, { actor, input: body }),
  );
  registerRoute(app, contract.listCompetenceJudges, async () => ({ items: await readJudges(db.execute) }));
}
