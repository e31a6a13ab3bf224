import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { mount } from '../../http/route.ts';
import { changeNumbering, readNumbering } from './numbering.ts';
import { readShop } from './queries.ts';
import { changeShop } from './shop.ts';

export default function setup(app: FastifyInstance): void {
  const { db } = app;
  mount(app, contract.getShop, () => readShop(db));
  mount(app, contract.updateShop, ({ actor, version, body }) =>
    changeShop(db, { actor, version, input: body }),
  );
  mount(app, contract.listNumberSeries, () => readNumbering(db.run));
  mount(app, contract.updateNumberSeries, ({ actor, params, body }) =>
    changeNumbering(db, { actor, kind: params.kind, input: body }),
  );
}
