import { randomBytes } from 'node:crypto';
import type pg from 'pg';
import { afterEach, expect, test } from 'vitest';
import {
  keysOf,
  linkOutstanding,
  sealNow,
  verifyChain,
  type Seal,
} from '../../apps/api/src/core/hash-chain/index.ts';
import { chained, chainedOtherwise } from '../../apps/api/src/core/hash-chain/chained.ts';
import { withSqlTransaction, sql } from '../../apps/api/src/db/client.ts';
import { issuedRecord } from '../support/issued-record.ts';
import { multipart } from '../support/multipart.ts';

const record = await issuedRecord();
const { db, owner } = record;
const keys = keysOf([randomBytes(32)]);
const verify = (seal: Seal | null = null) => verifyChain(db, { keys, seal });
const upload = multipart({ name: 'drawing.txt', content: 'as it was sent '.repeat(20_000) });
const fileId = (await owner({ method: 'POST', url: '/api/files', ...upload })).json<{ id: number }>().id;
await db.execute(sql`update "file" set "attachedAt" = now() where "id" = ${fileId}`);
await linkOutstanding(db, { keys, wait: true });

/** Changes made past the rules of the database, as its owner can, taken back after the test. */
const undo: (() => Promise<unknown>)[] = [];
afterEach(async () => {
  for (const back of undo.splice(0).reverse()) await back();
  expect((await verify()).faults).toEqual([]);
});
async function tamper(...statements: string[]): Promise<void> {
  const client = await db.pool.connect();
  try {
    await client.query(`set session_replication_role = replica`);
    for (const statement of statements) await client.query(statement);
  } finally {
    await client.query(`set session_replication_role = origin`);
    client.release();
  }
}
/** Keeps the rows of a table as they are, and puts them back after the test. */
async function keep(table: string): Promise<void> {
  await tamper(`create table "kept_${table}" as select * from "${table}"`);
  undo.push(() =>
    tamper(
      `delete from "${table}"`,
      `insert into "${table}" select * from "kept_${table}"`,
      `drop table "kept_${table}"`,
    ),
  );
}
const one = async <Row extends pg.QueryResultRow>(statement: string) => {
  const [row] = (await db.pool.query<Row>(statement)).rows;
  if (row === undefined) throw new Error(`nothing: ${statement}`);
  return row;
};

test('a frozen table that nobody chained is noticed', async () => {
  const { rows } = await db.pool.query<{ name: string }>(
    `select distinct c.relname as name from pg_trigger t join pg_class c on c.oid = t.tgrelid
      where not t.tgisinternal and c.relnamespace = 'public'::regnamespace and t.tgtype & 1 = 1 and t.tgtype & (8 | 16) > 0
        and t.tgname not like '%for_chain' order by 1`,
  );
  const covered = new Set([...chained.map(({ table }) => table), ...Object.keys(chainedOtherwise)]);
  expect(rows.length).toBeGreaterThan(30);
  // A new one goes into chained.ts, and its migration ends with: select chain_writes_of('table').
  expect(rows.map(({ name }) => name).filter((name) => !covered.has(name))).toEqual([]);
});

test('a table whose writes are not queued for the chain is noticed', async () => {
  const { rows } = await db.pool.query<{ name: string; kinds: string[] }>(
    `select c.relname as name, array_agg(t.tgname::text order by t.tgname) as kinds from pg_trigger t join pg_class c on c.oid = t.tgrelid
      where t.tgname like '%for_chain' group by 1 order by 1`,
  );
  const queued = [
    ...new Set(chained.filter((about) => about.issuedWith === undefined).map(({ table }) => table)),
  ];
  expect(rows.map(({ name }) => name)).toEqual(queued.sort());
  for (const { kinds } of rows)
    expect(kinds).toEqual(['queue_inserted_for_chain', 'queue_updated_for_chain']);
});

test('everything that was issued is in the chain, and the chain is whole', async () => {
  const verdict = await verify();
  expect(verdict).toMatchObject({ whole: true, complete: true, faults: [], files: 2 });
  const linked = await db.pool.query<{ name: string }>(
    `select distinct "tableName" as name from "chain_link"`,
  );
  const tables = linked.rows.map(({ name }) => name);
  expect(tables).toEqual(
    expect.arrayContaining([
      ...[
        'audit_entry',
        'recipe_revision',
        'recipe_step',
        'quotation_revision',
        'quotation_line',
        'quotation_break',
        'rate_card',
      ],
      ...[
        'customer_order',
        'order_line',
        'lot',
        'lot_hold',
        'traveler',
        'traveler_step',
        'step_sign_off',
        'step_reading',
      ],
      ...['step_correction', 'final_check', 'shipment', 'file'],
    ]),
  );
  expect(await one(`select count(*)::int as n from "chain_queue"`)).toEqual({ n: 0 });
});

test('a deleted audit row is found and named', async () => {
  await keep('audit_entry');
  const { id } = await one<{ id: string }>(
    `select "id"::text from "audit_entry" order by "id" offset 7 limit 1`,
  );
  await tamper(`delete from "audit_entry" where "id" = ${id}`);
  const { whole, faults } = await verify();
  expect(whole).toBe(false);
  expect(faults).toHaveLength(1);
  expect(faults[0]).toMatchObject({ kind: 'deleted', table: 'audit_entry', recordId: id });
  expect(faults[0]?.words).toContain(`entry of the audit trail ${id} was deleted (table audit_entry, entry `);
});

test('two audit entries whose contents changed places are found and named as swapped', async () => {
  await keep('audit_entry');
  const [a, b] = (
    await db.pool.query<{ id: string }>(`select "id"::text from "audit_entry" order by "id" offset 3 limit 2`)
  ).rows;
  const ids = [a?.id, b?.id];
  await tamper(
    `update "audit_entry" set "id" = -1 where "id" = ${ids[0]}`,
    `update "audit_entry" set "id" = ${ids[0]} where "id" = ${ids[1]}`,
    `update "audit_entry" set "id" = ${ids[1]} where "id" = -1`,
  );
  const { faults } = await verify();
  expect(faults.map(({ kind, recordId }) => [kind, recordId])).toEqual([
    ['swapped', ids[0]],
    ['swapped', ids[1]],
  ]);
  expect(faults[0]?.words).toContain(`was swapped: it holds what entry of the audit trail ${ids[1]} held`);
});

test('an audit row that was inserted with an old date is found, though the service itself chained it', async () => {
  const { position } = await one<{ position: number }>(
    `select max("position")::float8 as "position" from "chain_link"`,
  );
  await keep('audit_entry');
  await keep('chain_link');
  await db.pool.query(
    `insert into "audit_entry" ("at", "personName", "roles", "action", "recordKind", "recordId") values (now() - interval '3 days', 'Ann', '{owner}', 'approved it', 'lot', 1)`,
  );
  const { faults } = await verify();
  expect(faults).toMatchObject([{ kind: 'inserted', table: 'audit_entry', position: position + 1 }]);
  expect(faults[0]?.words).toMatch(/was inserted later than it says: it claims /);
});

test('an audit row that was inserted with the triggers off is found', async () => {
  await keep('audit_entry');
  await tamper(
    `insert into "audit_entry" ("personName", "roles", "action", "recordKind", "recordId") values ('Ann', '{owner}', 'approved it', 'lot', 1)`,
  );
  const { faults } = await verify();
  expect(faults).toMatchObject([{ kind: 'inserted', table: 'audit_entry', position: null }]);
});

test.each([
  [
    'traveler',
    `update "traveler" set "quantity" = "quantity" + 1`,
    /traveler \d+ \(T-\d+ revision \d+\) was changed/,
  ],
  [
    'quotation_break',
    `update "quotation_break" set "totalPrice" = "totalPrice" + 1`,
    /price of a quotation \d+ was changed/,
  ],
  [
    'step_reading',
    `update "step_reading" set "value" = "value" + 1`,
    /reading of a signed step \d+ was changed/,
  ],
  [
    'recipe_revision',
    `update "recipe_revision" set "status" = 'draft', "approvedById" = null`,
    /recipe revision \d+ \(R-\d+ revision \d+\) was changed/,
  ],
  [
    'final_check',
    `update "final_check" set "snapshot" = '{"checkedBy": "Somebody else"}'`,
    /final check \d+ \(L-\d+\) was changed/,
  ],
  [
    'lot',
    `update "lot" set "snapshot" = jsonb_set("snapshot", '{part,number}', '"another"')`,
    /lot \d+ \(L-\d+\) was changed/,
  ],
  ['shipment', `update "shipment" set "quantity" = 1`, /shipment \d+ \(S-\d+\) was changed/],
])('a changed issued record is found and named: %s', async (table, statement, words) => {
  await keep(table);
  const { id } = await one<{ id: string }>(
    `select max("recordId")::text as id from "chain_link" where "tableName" = '${table}'`,
  );
  await tamper(`${statement} where "id" = ${id}`);
  const { faults } = await verify();
  // The steps of a recipe that is a draft again are no longer issued either.
  if (table !== 'recipe_revision') expect(faults).toHaveLength(1);
  expect(faults[0]).toMatchObject({ kind: 'changed', table, recordId: id });
  expect(faults[0]?.words).toMatch(words);
});

test.each([
  [
    `update "file_chunk" set "bytes" = overlay("bytes" placing 'X' from 5) where "fileId" = $1 and "seq" = 0`,
    'changed',
  ],
  [`delete from "file_chunk" where "fileId" = $1`, 'deleted'],
])('a changed chunk of an attached file is found and named: %s', async (statement, what) => {
  await keep('file_chunk');
  await tamper(statement.replace('$1', String(fileId)));
  const { faults } = await verify();
  expect(faults).toMatchObject([{ kind: 'file', recordId: String(fileId) }]);
  expect(faults[0]?.words).toContain(`attached file ${fileId} (drawing.txt) was ${what}`);
});

test('the bytes of an issued paper that their owner changed are found and named', async () => {
  const digest = `alter table "issued_paper" add constraint "issued_paper_digest" check ("sha256" = sha256("bytes"))`;
  undo.push(() => tamper(digest));
  await keep('issued_paper');
  const { id } = await one<{ id: number }>('select min("id") as id from "issued_paper"');
  await tamper(
    `alter table "issued_paper" drop constraint "issued_paper_digest"`,
    `update "issued_paper" set "bytes" = 'another offer' where "id" = ${id}`,
  );
  const { faults } = await verify();
  expect(faults).toMatchObject([{ kind: 'file', table: 'issued_paper', recordId: String(id) }]);
  expect(faults[0]?.words).toContain('revision 1) were changed');
});

test.each([
  ['removed', `delete from "chain_link" where "position" = 5`, /Entry 5 was removed from the chain itself/],
  [
    'made to agree with a changed record',
    `update "chain_link" set "contentDigest" = sha256('x') where "position" = 5`,
    /Entry 5 of the chain .* was changed in the chain itself/,
  ],
])('an entry of the chain that was %s is found and named', async (_what, statement, words) => {
  await keep('chain_link');
  await tamper(statement);
  const { faults } = await verify();
  expect(faults[0]).toMatchObject({ kind: 'chain' });
  expect(faults[0]?.words).toMatch(words);
});

test('a chain cut short at its end, seals and all, is found against a seal that was kept elsewhere', async () => {
  const kept = await sealNow(db, { keys, sealedBy: 'test' });
  if (kept === null) throw new Error('nothing was sealed');
  expect((await verify(kept)).whole).toBe(true);
  for (const table of ['audit_entry', 'chain_link', 'chain_seal']) await keep(table);
  const { id, position } = await one<{ id: string; position: string }>(
    `select "recordId"::text as id, "position"::text from "chain_link" where "tableName" = 'audit_entry' order by "chain_link"."position" desc limit 1`,
  );
  await tamper(
    `delete from "audit_entry" where "id" >= ${id}`,
    `delete from "chain_link" where "position" >= ${position}`,
    `delete from "chain_seal"`,
  );
  // Other records that came after it have lost their entries, too; whoever cuts well removes them as well.
  const { faults } = await verify(kept);
  expect(faults.map(({ words }) => words).join('\n')).toContain(
    'The chain was cut short: the seal that was kept elsewhere',
  );
});

test('a chain written anew by whoever has the key is found against a seal that was kept elsewhere', async () => {
  const kept = await sealNow(db, { keys, sealedBy: 'test' });
  for (const table of ['audit_entry', 'chain_link', 'chain_seal']) await keep(table);
  await tamper(
    `update "audit_entry" set "personName" = 'Somebody else' where "id" = (select min("id") from "audit_entry")`,
    `insert into "chain_queue" ("tableName", "recordId") select "tableName", "recordId" from "chain_link" order by "position"`,
    `delete from "chain_link"`,
    `delete from "chain_seal"`,
  );
  expect((await verify()).whole).toBe(true);
  const { faults } = await verify(kept);
  expect(faults).toMatchObject([{ kind: 'seal', position: kept?.position }]);
  expect(faults[0]?.words).toContain('the chain was written anew up to there');
});

test('a chain was forked by a process with another key: it makes no entry and says which key is missing', async () => {
  await db.execute(
    sql`insert into "chain_queue" ("tableName", "recordId") select 'audit_entry', max("id") from "audit_entry"`,
  );
  const others = keysOf([randomBytes(32)]);
  expect(await linkOutstanding(db, { keys: others, wait: true })).toEqual({
    made: 0,
    missingKey: keys.newestId,
  });
  const verdict = await verifyChain(db, { keys: others });
  expect(verdict).toMatchObject({
    whole: false,
    faultCount: 0,
    unknownKeys: [{ keyId: keys.newestId, from: 1 }],
  });
});

test('a write that committed after one with a higher number was never chained', async () => {
  const insert = sql`
    insert into "audit_entry" ("personName", "roles", "action", "recordKind", "recordId") values ('Ann', '{owner}', 'waited', 'lot', 1) returning "id"::text`;
  const slow = await withSqlTransaction(db, async (execute) => {
    const [first] = await execute<{ id: string }>(insert);
    await db.execute(insert);
    expect(await linkOutstanding(db, { keys, wait: true })).toEqual({ made: 1 });
    return first?.id ?? '';
  });
  expect(await linkOutstanding(db, { keys, wait: true })).toEqual({ made: 1 });
  expect(await one(`select "tableName" from "chain_link" order by "position" desc limit 1`)).toEqual({
    tableName: 'audit_entry',
  });
  expect(
    (
      await one<{ id: string }>(
        `select "recordId"::text as id from "chain_link" order by "position" desc limit 1`,
      )
    ).id,
  ).toBe(slow);
});

test('two processes that link at once forked the chain, or chained a record twice', async () => {
  const insert = sql`
    insert into "audit_entry" ("personName", "roles", "action", "recordKind", "recordId")
    select 'Ann', '{owner}', 'did much', 'lot', n from generate_series(1, 300) n`;
  const made = await Promise.all(
    Array.from({ length: 8 }, async (_, index) => {
      if (index % 2 === 0) await db.execute(insert);
      return linkOutstanding(db, { keys, wait: index < 6 });
    }),
  );
  const rest = await linkOutstanding(db, { keys, wait: true });
  expect([...made, rest].reduce((sum, linking) => sum + linking.made, 0)).toBe(1200);
});

test('a column that a later Huelot adds to a chained table broke every entry before it', async () => {
  await db.pool.query(`alter table "shipment" add column "pallets" integer not null default 1`);
  undo.push(() => db.pool.query(`alter table "shipment" drop column "pallets"`));
  expect((await verify()).faults).toEqual([]);
});
