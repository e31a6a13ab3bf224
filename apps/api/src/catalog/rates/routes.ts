import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import * as queries from './queries.ts';
import { addExchangeRate } from './exchange-rates.ts';
import { readExchangeRates } from './exchange-queries.ts';
import { currentRates, oneCard, putInForce } from './rate-cards.ts';

export default function rates(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, contract.listRateCards, async () => ({
    items: (await queries.readCards(db.execute)).map((row) => ({
      ...row,
      createdAt: row.createdAt.toISOString(),
    })),
  }));
  registerRoute(app, contract.getCurrentRates, () => currentRates(db.execute));
  registerRoute(app, contract.getRateCard, ({ params }) => oneCard(db.execute, params.id));
  registerRoute(app, contract.createRateCard, ({ actor, body }) => putInForce(db, { actor, input: body }));
  registerRoute(app, contract.listExchangeRates, async ({ query }) => ({
    items: await readExchangeRates(db.execute, { ...query, limit: 500 }),
  }));
  registerRoute(app, contract.createExchangeRate, ({ actor, body }) =>
    addExchangeRate(db, { actor, input: body }),
  );
}
