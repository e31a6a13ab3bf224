import type { Role } from '@huelot/contracts';
import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify';
import { afterAll } from 'vitest';
import { buildApp } from '../../apps/api/src/app.ts';
import type { Db } from '../../apps/api/src/db/client.ts';
import type { Mailer } from '../../apps/api/src/mailer.ts';
import { addPerson } from '../../apps/api/src/domains/people/queries.ts';
import { openSignIn } from '../../apps/api/src/domains/people/sign-in.ts';
import { testDatabase } from './database.ts';

/** Sends a request as one signed-in person. */
export type Ask = (request: InjectOptions) => Promise<LightMyRequestResponse>;

export interface TestApp {
  app: FastifyInstance;
  db: Db;
  /** A fresh person with these roles, signed in. */
  as: (...roles: Role[]) => Promise<Ask & { personId: number }>;
}

let people = 0;

/**
 * The whole API over a migrated, empty database of its own, closed when the file is done.
 *
 * @example
 * const { as } = await testApp();
 * const estimator = await as('estimator');
 * await estimator({ url: '/api/customers' });
 */
export async function testApp(
  of: { extra?: (app: FastifyInstance) => void; mailer?: Mailer } = {},
): Promise<TestApp> {
  const db = await testDatabase();
  const app = await buildApp({
    db,
    publicUrl: 'http://localhost:4070',
    version: '0.0.0-test',
    mailer: of.mailer ?? null,
  });
  of.extra?.(app);
  await app.ready();
  afterAll(() => app.close());
  return {
    app,
    db,
    as: async (...roles) => {
      people += 1;
      const name = `${roles.join('-')}-${people}`;
      const person = await addPerson(db, { name, displayName: name, email: null, roles, passwordHash: null });
      const cookie = `huelot=${await openSignIn(db, person, { address: '127.0.0.1', agent: 'test' })}`;
      const ask: Ask = (request) => app.inject({ ...request, headers: { cookie, ...request.headers } });
      return Object.assign(ask, { personId: person.id });
    },
  };
}
