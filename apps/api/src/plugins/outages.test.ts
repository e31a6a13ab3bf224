import { once } from 'node:events';
import { createServer, type AddressInfo } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import Fastify from 'fastify';
import { afterAll, expect, onTestFinished, test } from 'vitest';
import { cloneDatabase } from '../../../../tests/support/database.ts';
import { query } from '../../../../tests/support/database-server.ts';
import { withSqlTransaction, inTransaction, openDatabase, sql, type Db } from '../db/client.ts';
import errors from './errors.ts';

const { url, drop } = await cloneDatabase();
afterAll(drop);

/** Every way in which the service asks the database. */
const ways: Record<string, (db: Db, statement: string) => Promise<unknown>> = {
  'one statement': (db, statement) => db.pool.query(statement),
  'the reads of Prisma': (db, statement) => db.prisma.$queryRawUnsafe(statement),
  'a transaction of Prisma': (db, statement) =>
    inTransaction(db, ({ prisma }) => prisma.$queryRawUnsafe(statement)),
  'a transaction in SQL': (db, statement) => withSqlTransaction(db, (execute) => execute(sql([statement]))),
};

async function answer(db: Db, { way, statement }: { way: string; statement: string }) {
  const app = Fastify();
  await app.register(errors);
  app.get('/', async () => {
    await ways[way]?.(db, statement);
    return 'done';
  });
  const { statusCode, headers, body } = await app.inject('/');
  await app.close();
  return { statusCode, retryAfter: headers['retry-after'], body };
}

function opened(connectionString: string, max = 3): Db {
  const db = openDatabase({ connectionString, max });
  onTestFinished(() => db.close());
  return db;
}

const withOption = (option: string) => `${url}?options=${encodeURIComponent(`-c ${option}`)}`;
const changed = (change: (address: URL) => void) => {
  const address = new URL(url);
  change(address);
  return address.href;
};

/** A server of which all that can be seen is how it turns a connection away, as PostgreSQL's protocol has it. */
async function turningAway(sqlState: string, words: string): Promise<string> {
  const server = createServer((socket) => {
    socket.on('error', () => undefined);
    socket.once('data', () => {
      const fields = Buffer.from(`SFATAL\0VFATAL\0C${sqlState}\0M${words}\0\0`);
      const head = Buffer.alloc(5, 'E');
      head.writeInt32BE(fields.length + 4, 1);
      socket.end(Buffer.concat([head, fields]));
    });
  }).listen(0, '127.0.0.1');
  await once(server, 'listening');
  onTestFinished(() => void server.close());
  return `postgresql://a:b@127.0.0.1:${(server.address() as AddressInfo).port}/c`;
}

interface Case {
  database: () => string | Promise<string>;
  statement?: string;
  status?: number;
  says: RegExp;
}
const cases: Record<string, Case> = {
  'a server that is not there': {
    database: () => 'postgresql://a:b@127.0.0.1:1/none',
    says: /cannot be reached: nothing answers/,
  },
  'a name that no machine has': {
    database: () => 'postgresql://a:b@nowhere.invalid/none',
    says: /cannot be reached: nothing answers/,
  },
  'another password': {
    database: () => changed((address) => (address.password = 'wrong')),
    says: /refuses the sign-in/,
  },
  'a database that is not there': {
    database: () => changed((address) => (address.pathname = '/none')),
    says: /refuses the sign-in/,
  },
  'a server that starts': {
    database: () => turningAway('57P03', 'the database system is starting up'),
    says: /is starting\./,
  },
  'a server that recovers': {
    database: () => turningAway('57P03', 'the database system is in recovery mode'),
    says: /is starting\./,
  },
  'a server that stops': {
    database: () => turningAway('57P03', 'the database system is shutting down'),
    says: /is being stopped/,
  },
  'a server with too many clients': {
    database: () => turningAway('53300', 'sorry, too many clients already'),
    says: /All connections to the database are in use/,
  },
  'a connection that the server ends': {
    database: () => url,
    statement: 'select pg_terminate_backend(pg_backend_pid())',
    says: /broke off\. Look whether this request was saved/,
  },
  'a statement that takes too long': {
    database: () => withOption('statement_timeout=50'),
    statement: 'select pg_sleep(5)::text',
    says: /took too long/,
  },
  'a server without room on its disk': {
    database: () => url,
    statement: `do $$ begin raise exception 'could not extend file' using errcode = '53100'; end $$`,
    status: 507,
    says: /no room left on its disk/,
  },
  'a server short of memory': {
    database: () => url,
    statement: `do $$ begin raise exception 'out of memory' using errcode = '53200'; end $$`,
    says: /short of memory/,
  },
  'a standby': {
    database: () => withOption('default_transaction_read_only=on'),
    statement: 'delete from attempt_window',
    says: /takes no changes just now/,
  },
};

/** What somebody is told whichever way the service asked, all ways at once. */
const inEveryWay = (db: Db, statement: string) =>
  Promise.all(Object.keys(ways).map(async (way) => ({ way, ...(await answer(db, { way, statement })) })));

test.each(Object.entries(cases))(
  '%s is told as it is',
  async (...[, { database, statement, status, says }]) => {
    const db = opened(await database(), 10);
    for (const answered of await inEveryWay(db, statement ?? 'select 1')) {
      expect(answered.statusCode, `${answered.way}: ${answered.body}`).toBe(status ?? 503);
      expect(answered.body, answered.way).toMatch(says);
      expect(answered.retryAfter, answered.way).toBe(status === undefined ? '5' : undefined);
    }
  },
);

test('a full pool is told as busy, not as a lost database', async () => {
  const db = opened(url, 1);
  const holder = await db.pool.connect();
  for (const answered of await inEveryWay(db, 'select 1')) {
    expect(answered.statusCode, `${answered.way}: ${answered.body}`).toBe(503);
    expect(answered.body, answered.way).toMatch(/"code":"busy".*All connections to the database are in use/);
  }
  holder.release();
});

test('the words that somebody typed are no outage', async () => {
  const statement = `do $$ begin raise exception 'ECONNREFUSED Connection terminated No space left on device' using errcode = '23514'; end $$`;
  for (const answered of await inEveryWay(opened(url), statement))
    expect(answered.statusCode, `${answered.way}: ${answered.body}`).toBe(422);
});

test.each([...Object.keys(ways), 'a connection that only waits in a transaction'])(
  'a connection that is cut while it is held by %s ends no process, and the next request is answered',
  async (way) => {
    const db = opened(url);
    const held = (ways[way] ?? idleInTransaction)(db, 'select pg_sleep(20)::text');
    const failed = expect(held).rejects.toThrow();
    const cut = `select pg_terminate_backend(pid) from pg_stat_activity where datname = current_database()
      and pid <> pg_backend_pid() and (query like '%pg_sleep%' or state = 'idle in transaction')`;
    while ((await query(url, cut)).length === 0) await sleep(20);
    await failed;
    expect((await answer(db, { way: 'one statement', statement: 'select 1' })).statusCode).toBe(200);
  },
);

/** As an upload does between two pieces: the connection is held, and nothing is asked when it breaks. */
const idleInTransaction = (db: Db) =>
  withSqlTransaction(db, async (execute) => {
    await execute(sql`select 1`);
    await sleep(1_000);
    return execute(sql`select 2`);
  });
