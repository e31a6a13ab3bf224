import type { Access } from '@huelot/contracts';
import { may, permissionLabels } from '@huelot/contracts';
import type { FastifyInstance, RouteOptions } from 'fastify';
import fp from 'fastify-plugin';
import type { Actor } from '../kernel/actor.ts';
import { actorOfToken } from '../core/people/index.ts';
import { DomainError } from '../kernel/refusal.ts';
import { readToken } from './cookie.ts';

declare module 'fastify' {
  interface FastifyRequest {
    actor: Actor | null;
  }
  interface FastifyContextConfig {
    /** Who may call the route. A service with a route that does not say so does not start. */
    access?: Access;
  }
}

const reads = new Set(['GET', 'HEAD', 'OPTIONS']);

/**
 * Finds out who is asking, and refuses whoever may not: the default is refusal. All of it is decided from the route
 * that will answer, never from the address as it was written: `/%61pi/parts` and `http://host/api/parts` are `/api/parts`.
 */
export default fp(
  (app: FastifyInstance) => {
    app.decorateRequest('actor', null);
    const routes: RouteOptions[] = [];
    app.addHook('onRoute', (route) => void routes.push(route));
    // Not already when a route is added: a plugin may still say who may see the routes of a library.
    app.addHook('onReady', (done) => {
      refuseUndeclared(routes);
      done();
    });
    app.addHook('onRequest', async (request) => {
      if (request.is404) return;
      if (!reads.has(request.method))
        refuseForeignOrigin(request.headers, [
          app.publicUrl,
          `http://${request.host}`,
          `https://${request.host}`,
        ]);
      const access = request.routeOptions.config.access;
      if (access === undefined) throw new DomainError('not-allowed', 'Nobody may call this.');
      const token = readToken(request);
      if (token !== null) {
        request.actor = await actorOfToken(app.db, { token, address: request.ip });
      }
      if (access === 'anyone') return;
      if (request.actor === null)
        throw new DomainError('not-signed-in', 'Sign in first; your sign-in may have ended.');
      if (request.actor.lacksSecondFactor && !isOpenWithoutSecondFactor(request.routeOptions.url)) {
        throw new DomainError(
          'second-factor-missing',
          'One of your roles needs a second factor: add a passkey or an app first.',
        );
      }
      if (access !== 'signed-in' && !may(request.actor.roles, access)) {
        throw new DomainError(
          'not-allowed',
          `None of your roles may do this. It takes: ${permissionLabels[access]}.`,
        );
      }
    });
  },
  { name: 'signin', dependencies: ['errors', 'cookie'] },
);

function refuseUndeclared(routes: RouteOptions[]): void {
  const undeclared = routes
    .filter(({ config }) => config?.access === undefined)
    .map(({ method, url }) => `${String(method)} ${url}`);
  if (undeclared.length > 0)
    throw new Error(`These routes do not say who may call them: ${undeclared.join(', ')}.`);
}

/** What is needed to add one, or to leave. */
const isOpenWithoutSecondFactor = (url: string | undefined) =>
  url !== undefined && /^\/api\/(me|sign-out|sign-out-everywhere)(\/|$)/.test(url);

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
    throw new DomainError('cross-origin', 'This request came from another site and was not carried out.');
}
