import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { mount } from '../../http/route.ts';
import * as queries from './queries.ts';
import { currentRates, oneCard, putInForce } from './rate-cards.ts';

export default function rates(app: FastifyInstance): void {
  const { db } = app;
  mount(app, contract.listRateCards, async () => ({
    items: (await queries.readCards(db.run)).map((row) => ({
      ...row,
      createdAt: row.createdAt.toISOString(),
    })),
  }));
  mount(app, contract.getCurrentRates, () => currentRates(db.run));
  mount(app, contract.getRateCard, ({ params }) => oneCard(db.run, params.id));
  mount(app, contract.createRateCard, ({ actor, body }) => putInForce(db, { actor, input: body }));
}
