import { randomBytes } from 'node:crypto';
import { expect, test, vi } from 'vitest';
import { testDatabases } from '../../../../tests/support/database.ts';
import { addPerson } from '../core/people/queries.ts';
import { withIdempotency } from '../http/once.ts';
import {
  databaseFault,
  inTransaction,
  sql,
  withSqlTransaction,
  type Db,
  type SqlExecutor,
} from './client.ts';
import { outageOf } from './outage.ts';

const { db } = await testDatabases();
const person = await addPerson(db, {
  ...{ name: 'owner', displayName: 'Owner', email: null, roles: ['owner'], passwordHash: 'none' },
});
// A row that the database judges only when the transaction is to be kept.
await db.execute(sql`create table "late" ("id" integer unique deferrable initially deferred)`);
await db.execute(sql`
  create function cut() returns trigger language plpgsql as $$ begin
    if new."id" = 13 then perform pg_terminate_backend(pg_backend_pid()); end if;
    return null;
  end $$`);
await db.execute(sql`
  create constraint trigger "cut" after insert on "late" deferrable initially deferred
  for each row execute function cut()`);

const transactions: [
  name: string,
  run: (db: Db, work: (execute: SqlExecutor) => Promise<unknown>) => unknown,
][] = [
  ['in SQL alone', withSqlTransaction],
  ['through Prisma', (db, work) => inTransaction(db, ({ execute }) => work(execute))],
];

const write = async (run: (typeof transactions)[number][1], ids: number[]): Promise<unknown> => {
  const key = { personId: person.id, key: randomBytes(8).toString('hex'), digest: randomBytes(32) };
  return withIdempotency(db, key, async () => {
    await run(db, async (execute) => {
      for (const id of ids) await execute(sql`insert into "late" ("id") values (${id})`);
    });
    return { status: 201, body: '{}' };
  }).catch((error: unknown) => error);
};

const kept = () => db.execute(sql`select 1 from "late"`);

test.each(transactions)(
  'a commit that the database refused was told as something else, %s',
  async (_, run) => {
    expect(databaseFault(await write(run, [1, 1]))?.code).toBe('23505');
    expect(await kept()).toEqual([]);
  },
);

test.each(transactions)(
  'a connection cut at the commit was told as a fault of the server, %s',
  async (_, run) => {
    expect(outageOf(await write(run, [13]))).toBe('connection-lost');
    // The pool hears of the end of a connection a moment after the query did.
    await vi.waitFor(async () => expect(await kept()).toEqual([]));
    expect(db.pool.totalCount - db.pool.idleCount).toBe(0);
  },
);
