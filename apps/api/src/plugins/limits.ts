import helmet from '@fastify/helmet';
import rateLimit from '@fastify/rate-limit';
import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';

/** Headers that keep browsers careful, and a ceiling on how fast one address may ask. */
export default fp(
  async (app: FastifyInstance) => {
    const secure = app.publicUrl.startsWith('https://');
    await app.register(helmet, {
      // The web app brings its own policy, with the hashes of its start script; the API serves no pages.
      contentSecurityPolicy: false,
      strictTransportSecurity: secure ? { maxAge: 31_536_000 } : false,
      crossOriginOpenerPolicy: secure,
      originAgentCluster: secure,
      referrerPolicy: { policy: 'same-origin' },
    });
    await app.register(rateLimit, {
      global: false,
      max: 3000,
      timeWindow: '1 minute',
    });
  },
  { name: 'limits' },
);
