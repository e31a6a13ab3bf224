import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { mount, mountOpen } from '../../http/route.ts';
import { giveToken } from '../../plugins/cookie.ts';
import { absoluteS, readMe } from '../people/index.ts';
import { changeNumbering, readNumbering } from './numbering.ts';
import { openShop } from './open-shop.ts';
import { readShop } from './queries.ts';
import { changeShop } from './shop.ts';

export default function setup(app: FastifyInstance): void {
  const { db } = app;
  mountOpen(app, contract.createFirstAdmin, async ({ body, request, reply }) => {
    const from = { address: request.ip, agent: request.headers['user-agent'] ?? '' };
    const { token, person } = await openShop(db, { input: body, from });
    giveToken(reply, token, absoluteS);
    return readMe(db, person.id);
  });
  mount(app, contract.getShop, () => readShop(db));
  mount(app, contract.updateShop, ({ actor, version, body }) =>
    changeShop(db, { actor, version, input: body }),
  );
  mount(app, contract.listNumberSeries, () => readNumbering(db.run));
  mount(app, contract.updateNumberSeries, ({ actor, params, body }) =>
    changeNumbering(db, { actor, kind: params.kind, input: body }),
  );
}
