import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { readToday } from './today.ts';

export default function today(app: FastifyInstance): void {
  registerRoute(app, contract.getToday, ({ actor }) => readToday(app.db, actor));
}
