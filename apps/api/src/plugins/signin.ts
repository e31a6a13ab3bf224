import type { Access } from '@huelot/contracts';
import { may } from '@huelot/contracts';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import type { Actor } from '../actor.ts';
import { actorOfToken } from '../domains/people/index.ts';
import { Refusal } from '../refusal.ts';
import { readToken } from './cookie.ts';

declare module 'fastify' {
  interface FastifyRequest {
    actor: Actor | null;
  }
  interface FastifyContextConfig {
    /** Who may call the route; a route under /api without it is refused to everybody. */
    access?: Access;
  }
}

const reads = new Set(['GET', 'HEAD', 'OPTIONS']);

/** Finds out who is asking, and refuses whoever may not: the default is refusal. */
export default fp(
  (app: FastifyInstance) => {
    app.decorateRequest('actor', null);
    app.addHook('onRequest', async (request) => {
      if (!request.url.startsWith('/api/') || request.is404) return;
      if (!reads.has(request.method))
        refuseForeignOrigin(request.headers, [
          app.publicUrl,
          `http://${request.host}`,
          `https://${request.host}`,
        ]);
      const access = request.routeOptions.config.access;
      if (access === undefined) throw new Refusal('not-allowed', 'Nobody may call this.');
      const token = readToken(request);
      if (token !== null) {
        request.actor = await actorOfToken(app.db, { token, address: request.ip });
      }
      if (access === 'anyone') return;
      if (request.actor === null)
        throw new Refusal('not-signed-in', 'Sign in first; your sign-in may have ended.');
      if (access !== 'signed-in' && !may(request.actor.roles, access)) {
        request.log.warn({ person: request.actor.name, access, url: request.url }, 'refused');
        throw new Refusal(
          'not-allowed',
          `This needs the permission ${access}, which none of your roles carries.`,
        );
      }
    });
  },
  { name: 'signin', dependencies: ['errors', 'cookie'] },
);

/** A browser says where a writing request comes from; one from another site is refused. */
function refuseForeignOrigin(
  headers: { origin?: string | undefined; 'sec-fetch-site'?: string | string[] | undefined },
  own: string[],
) {
  const { origin } = headers;
  const site = headers['sec-fetch-site'];
  const foreign =
    origin === undefined ? site === 'cross-site' || site === 'same-site' : !own.includes(origin);
  if (foreign)
    throw new Refusal('foreign-origin', 'This request came from another site and was not carried out.');
}
