import type { FastifyInstance } from 'fastify';
import fp from 'fastify-plugin';

const PATIENCE_MS = 3_000;

/** Tells watchers, such as a container's or a proxy's, whether the service and its database answer. */
export default fp(
  (app: FastifyInstance, _options, done) => {
    app.get(
      '/api/health',
      { config: { access: 'anyone' }, schema: { hide: true } },
      async (_request, reply) => {
        const database = (await databaseAnswers(app)) ? 'up' : 'down';
        return reply
          .code(database === 'up' ? 200 : 503)
          .header('cache-control', 'no-store')
          .send({ service: 'up', version: app.release, database });
      },
    );
    done();
  },
  { name: 'health' },
);

async function databaseAnswers(app: FastifyInstance): Promise<boolean> {
  let timer: NodeJS.Timeout | undefined;
  const tooLate = new Promise<boolean>((resolve) => {
    timer = setTimeout(() => resolve(false), PATIENCE_MS);
  });
  const answer = app.db.pool.query('select 1').then(
    () => true,
    () => false,
  );
  try {
    return await Promise.race([answer, tooLate]);
  } finally {
    clearTimeout(timer);
  }
}
