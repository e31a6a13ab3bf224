import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import { DomainError } from '../kernel/refusal.ts';

/**
 * Answers under the names of the service alone, where they are listed: a page of a stranger whose name was pointed at
 * this machine is not served. Watchers may ask under any name or number.
 */
export default fp(
  (app: FastifyInstance, { allowedHosts }: { allowedHosts: string[] }, done) => {
    const known = new Set([new URL(app.publicUrl).hostname, ...allowedHosts]);
    if (allowedHosts.length > 0)
      app.addHook('onRequest', (request, _reply, next) => {
        const asked = nameIn(request.host);
        if (known.has(asked) || request.routeOptions.url?.startsWith('/api/health')) return next();
        next(new DomainError('cross-origin', `This service does not answer under the name ${asked}.`));
      });
    done();
  },
  { name: 'hosts', dependencies: ['errors'] },
);

/** The name of a host without its port, as addresses are written. */
function nameIn(host: string): string {
  try {
    return new URL(`http://${host}`).hostname;
  } catch {
    return host;
  }
}
