import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';
import { DomainError } from '../kernel/refusal.ts';

declare module 'fastify' {
  interface FastifyContextConfig {
    /** The route sends a file of the web app. */
    appFile?: boolean;
  }
}

/** Far above what a whole shop behind one address asks; a script gone wild is stopped before it costs others anything. */
const CEILING_PER_MINUTE = 3000;
/** Each browser fetches the whole app, some five hundred files, when a new version is there: enough for sixty at once. */
const FILES_PER_MINUTE = 30_000;

/** Headers that keep browsers careful, and a ceiling on how fast one address may ask. */
export default fp(
  async (app: FastifyInstance, { rateLimits }: { rateLimits: boolean }) => {
    const secure = app.publicUrl.startsWith('https://');
    await app.register(helmet, {
      // The web app brings its own policy, with the hashes of its start script; the API serves no pages.
      contentSecurityPolicy: false,
      strictTransportSecurity: secure ? { maxAge: 31_536_000 } : false,
      crossOriginOpenerPolicy: secure,
      originAgentCluster: secure,
      referrerPolicy: { policy: 'same-origin' },
    });
    if (!rateLimits) return;
    // Routes that cost more have a lower limit of their own, in their contracts.
    await app.register(rateLimit, { global: false, timeWindow: '1 minute' });
    const upTo = (max: number) => app.createRateLimit({ max, timeWindow: '1 minute' });
    const [count, countFile] = [upTo(CEILING_PER_MINUTE), upTo(FILES_PER_MINUTE)];
    app.addHook('onRequest', async (request, reply) => {
      const isFile = request.routeOptions.config.appFile === true;
      const counted = await (isFile ? countFile : count)(request);
      if (counted.isAllowed || !counted.isExceeded) return;
      reply.header('retry-after', counted.ttlInSeconds);
      throw new DomainError(
        'too-many-requests',
        `More than ${counted.max} requests came from your address within a minute. Ask again in ${counted.ttlInSeconds} s.`,
      );
    });
  },
  { name: 'limits' },
);
