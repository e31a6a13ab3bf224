import { checkLot, shipLot } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { mount } from '../../http/route.ts';
import { check, ship } from './inspection.ts';

export default function inspection(app: FastifyInstance): void {
  const { db } = app;
  mount(app, checkLot, ({ actor, params, body, once }) =>
    check(db, { actor, id: params.id, input: body, once }),
  );
  mount(app, shipLot, ({ actor, params, body, once }) =>
    ship(db, { actor, id: params.id, input: body, once }),
  );
}
