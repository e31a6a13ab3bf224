import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { mount } from '../../http/route.ts';
import { found } from '../../refusal.ts';
import { correct } from './correct.ts';
import * as queries from './queries.ts';
import { signOff } from './sign.ts';

export default function travelers(app: FastifyInstance): void {
  const { db } = app;
  mount(app, contract.getTraveler, async ({ params }) =>
    found(await queries.readTraveler(db.run, params.id), `traveler ${params.id}`),
  );
  mount(app, contract.findTraveler, async ({ params }) => {
    const revisions = await queries.readTravelerByNumber(db.run, params.number);
    const printed = found(
      revisions.find(({ revision }) => revision === params.revision),
      `traveler ${params.number} revision ${params.revision}`,
    );
    const current = revisions.find(({ status }) => status === 'issued') ?? revisions.at(-1);
    return {
      traveler: printed,
      current: current === undefined ? null : { id: current.id, revision: current.revision },
    };
  });
  mount(app, contract.openLotAtTank, async ({ params }) =>
    found(await queries.readCurrentTraveler(db.run, params.id), `traveler of lot ${params.id}`),
  );
  mount(app, contract.listReadySteps, async ({ query }) => ({
    items: await queries.readReadySteps(db.run, query),
  }));
  mount(app, contract.signStep, ({ actor, params, body, once }) =>
    signOff(db, { actor, stepId: params.id, input: body, once }),
  );
  mount(app, contract.correctReading, ({ actor, params, body, once }) =>
    correct(db, { actor, signOffId: params.id, input: body, once }),
  );
}
