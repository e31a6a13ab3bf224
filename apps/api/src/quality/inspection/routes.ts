import { checkLot, markFirstArticle, shipLot } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import { registerRoute } from '../../http/route.ts';
import { makeFirstArticle } from './first-article.ts';
import { finalCheck, shipLots } from './inspection.ts';

export default function inspection(app: FastifyInstance): void {
  const { db } = app;
  registerRoute(app, checkLot, ({ actor, params, body }) =>
    finalCheck(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, markFirstArticle, ({ actor, params, body }) =>
    makeFirstArticle(db, { actor, id: params.id, input: body }),
  );
  registerRoute(app, shipLot, ({ actor, params, body }) =>
    shipLots(db, { actor, id: params.id, input: body }),
  );
}
