import { randomBytes, randomUUID } from 'node:crypto';
import type { Role } from '@huelot/contracts';
import type { FastifyInstance, InjectOptions, LightMyRequestResponse } from 'fastify';
import { afterAll } from 'vitest';
import { buildApp } from '../../apps/api/src/app.ts';
import type { Db } from '../../apps/api/src/db/client.ts';
import type { Mailer } from '../../apps/api/src/kernel/mailer.ts';
import { signingKeyOf } from '../../apps/api/src/kernel/signing-key.ts';
import { keysOf } from '../../apps/api/src/core/hash-chain/index.ts';
import { addPerson } from '../../apps/api/src/core/people/queries.ts';
import { hashSecret } from '../../apps/api/src/core/people/secrets.ts';
import { openSignIn } from '../../apps/api/src/core/people/sign-in.ts';
import { testDatabases } from './database.ts';
import { endpoints } from './endpoints.ts';
import { testSecrets } from './secrets.ts';
import { unaudited } from './unaudited.ts';

/** Sends a request as one signed-in person. One that `changesNothing`, as all is there already, must leave no entry. */
export type Ask = (request: InjectOptions & { changesNothing?: true }) => Promise<LightMyRequestResponse>;

export interface TestApp {
  app: FastifyInstance;
  /** As the owner of the tables; the app itself works as the role of the service. */
  db: Db;
  /** A fresh person with these roles, signed in. */
  as: (...roles: Role[]) => Promise<Ask & { personId: number; cookie: string }>;
}

/** The write that a request asks for, where it takes a key. */
const keyedWrite = ({ method = 'GET', url }: InjectOptions) => {
  const path = typeof url === 'string' ? url.replace(/\?.*/, '') : '';
  return endpoints.find(
    ([, endpoint]) =>
      endpoint.method === method &&
      endpoint.keyless === null &&
      new RegExp(`^/api${endpoint.path.replaceAll(/:\w+/g, '[^/]+')}$`).test(path),
  )?.[0];
};

let people = 0;
/** Somebody who joined, with a password that nobody knows. */
const unguessable = await hashSecret(randomUUID());

/**
 * The whole API over a migrated, empty database of its own, closed when the file is done.
 *
 * @example
 * const { as } = await testApp();
 * const estimator = await as('estimator');
 * await estimator({ url: '/api/customers' });
 */
export async function testApp(
  options: {
    extra?: (app: FastifyInstance) => void;
    mailer?: Mailer;
    rateLimits?: boolean;
    logger?: object;
    requestTimeoutMs?: number;
    publicUrl?: string;
  } = {},
): Promise<TestApp> {
  const { db, serviceDb } = await testDatabases();
  const app = await buildApp({
    db: serviceDb,
    publicUrl: options.publicUrl ?? 'http://localhost:4070',
    version: '0.0.0-test',
    secrets: testSecrets,
    mailer: options.mailer ?? null,
    chainKeys: keysOf([randomBytes(32)]),
    processKey: signingKeyOf(randomBytes(32)),
    rateLimits: options.rateLimits ?? false,
    ...(options.logger === undefined ? {} : { logger: options.logger }),
    ...(options.requestTimeoutMs === undefined ? {} : { requestTimeoutMs: options.requestTimeoutMs }),
  });
  options.extra?.(app);
  await app.ready();
  afterAll(() => app.close());
  return {
    app,
    db,
    as: async (...roles) => {
      people += 1;
      const name = `${roles.join('-')}-${people}`;
      const person = await addPerson(db, {
        name,
        displayName: name,
        email: null,
        roles,
        passwordHash: unguessable,
      });
      const token = await openSignIn(db, person, { address: '127.0.0.1', agent: 'test' });
      // Gives the credential again before whatever is signed.
      await db.prisma.signIn.updateMany({
        where: { personId: person.id },
        data: { provedAt: new Date(), provedWith: 'password' },
      });
      const cookie = `huelot=${token}`;
      // As the pages do, each write that takes a key is sent with one. Each must leave its entry in the audit trail.
      const ask: Ask = async ({ changesNothing = false, ...request }) => {
        const write = keyedWrite(request);
        const key = randomUUID();
        const headers = { cookie, ...(write === undefined ? {} : { 'idempotency-key': key }) };
        const reply = await app.inject({ ...request, headers: { ...headers, ...request.headers } });
        const isOurKey = request.headers?.['idempotency-key'] === undefined;
        if (write !== undefined && isOurKey && reply.statusCode < 300 && !(write in unaudited))
          await expectAudited(db, { key, what: write, changesNothing });
        return reply;
      };
      return Object.assign(ask, { personId: person.id, cookie });
    },
  };
}

/** The service has an entry of the audit trail in the transaction that kept the answer to this key, or has none. */
async function expectAudited(
  db: Db,
  { key, what, changesNothing }: { key: string; what: string; changesNothing: boolean },
): Promise<void> {
  const { rows } = await db.pool.query(
    `select 1 from answered b join audit_entry a on a.xmin = b.xmin where b.key = $1 limit 1`,
    [key],
  );
  if (changesNothing) {
    if (rows.length > 0) throw new Error(`${what} changed nothing and left an entry in the audit trail`);
  } else if (rows.length === 0)
    throw new Error(`${what} was carried out and left no entry in the audit trail`);
}
