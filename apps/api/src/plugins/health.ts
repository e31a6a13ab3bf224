import { getHealth, getLiveness, getReadiness } from '@huelot/contracts';
import type { FastifyInstance, FastifyReply } from 'fastify';
import fp from 'fastify-plugin';
import { registerPublicRoute } from '../http/route.ts';
import { watchCondition } from './condition.ts';

/** Tells watchers, such as a container's or a proxy's, whether the service and its database work, and if not, why. */
export default fp(
  (app: FastifyInstance, _options, done) => {
    const condition = watchCondition(app.db.pool);
    app.addHook('onError', (_request, _reply, error) => Promise.resolve(condition.note(error)));
    const readHealth = async (reply: FastifyReply) => {
      const state = await condition.read();
      if (state.database !== 'up') reply.code(503);
      return { service: 'up' as const, version: app.release, ...state };
    };
    registerPublicRoute(app, getHealth, ({ reply }) => readHealth(reply));
    registerPublicRoute(app, getReadiness, ({ reply }) => readHealth(reply));
    registerPublicRoute(app, getLiveness, () =>
      Promise.resolve({ service: 'up' as const, version: app.release }),
    );
    done();
  },
  { name: 'health' },
);
