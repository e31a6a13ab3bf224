import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { viewStockRates } from './stock-rates.ts';

export default function stockRates(app: FastifyInstance): void {
  registerRoute(app, contract.getStockRates, ({ query }) => viewStockRates(app.db.execute, query));
}
