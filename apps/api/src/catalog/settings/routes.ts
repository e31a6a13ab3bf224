import * as contract from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute, registerPublicRoute } from '../../http/route.ts';
import { giveToken } from '../../plugins/cookie.ts';
import { absoluteS, changeApprovalRules, readApprovalRules, readMe } from '../../core/people/index.ts';
import { changeNumbering, readNumbering } from './numbering.ts';
import { openShop } from './open-shop.ts';
import { readShop } from './queries.ts';
import { changeShop } from './shop.ts';

export default function setup(app: FastifyInstance): void {
  const { db } = app;
  registerPublicRoute(app, contract.createFirstAdmin, async ({ body, request, reply }) => {
    const from = { address: request.ip, agent: request.headers['user-agent'] ?? '' };
    const { token, person } = await openShop(db, { input: body, from });
    giveToken(reply, token, absoluteS);
    return readMe(db, person.id);
  });
  registerRoute(app, contract.getShop, () => readShop(db));
  registerRoute(app, contract.updateShop, ({ actor, version, body }) =>
    changeShop(db, { actor, version, input: body }),
  );
  registerRoute(app, contract.getApprovalRules, () => readApprovalRules(db));
  registerRoute(app, contract.updateApprovalRules, ({ actor, version, body }) =>
    changeApprovalRules(db, { actor, version, input: body }),
  );
  registerRoute(app, contract.listNumberSeries, () => readNumbering(db.execute));
  registerRoute(app, contract.updateNumberSeries, ({ actor, params, body }) =>
    changeNumbering(db, { actor, kind: params.kind, input: body }),
  );
}
