import { afterEach, beforeEach, expect, inject, test } from 'vitest';
import pg from 'pg';
import { prepareDatabase } from '../../apps/api/src/db/prepare.ts';
import { cloneDatabase } from '../support/database.ts';
import { query, urlOf } from '../support/database-server.ts';

let database: Awaited<ReturnType<typeof cloneDatabase>>;
let service: pg.Client;
beforeEach(async () => {
  database = await cloneDatabase();
  await query(
    database.url,
    `insert into "audit_entry" ("personName", "roles", "action", "recordKind", "recordId") values ('Ann', '{owner}', 'did it', 'lot', 1)`,
  );
  service = new pg.Client({ connectionString: database.serviceUrl });
  await service.connect();
});
afterEach(async () => {
  await service.end();
  await database.drop();
});

test.each([
  `alter table "audit_entry" disable trigger all`,
  `alter table "audit_entry" disable trigger "audit_entry_only_grows"`,
  `drop trigger "audit_entry_only_grows" on "audit_entry"`,
  `drop trigger "step_sign_off_stands" on "step_sign_off"`,
  `create or replace function refuse_change() returns trigger language plpgsql as $$ begin return new; end $$`,
  `truncate "audit_entry"`,
  `truncate "answered"`,
  `truncate "rate_card" cascade`,
  `set session_replication_role = replica`,
  `select set_config('session_replication_role', 'replica', false)`,
  `delete from "audit_entry"`,
  `update "audit_entry" set "personName" = 'Somebody else'`,
  `delete from "chain_link"`,
  `update "issued_paper" set "title" = 'Another offer'`,
  `update "chain_link" set "digest" = "contentDigest"`,
  `delete from "chain_seal"`,
  `drop table "audit_entry"`,
  `alter table "audit_entry" add column "more" text`,
  `alter table "audit_entry" owner to current_user`,
  `create table "mine" ("id" int)`,
  `set role huelot`,
  `delete from "_prisma_migrations"`,
])('the role of the service could go behind the record: %s', async (statement) => {
  // 42501 is the server's own refusal, for want of a privilege.
  await expect(service.query(statement)).rejects.toMatchObject({ code: '42501' });
  const rows = await query(database.url, `select "personName" from "audit_entry"`);
  expect(rows).toEqual([{ personName: 'Ann' }]);
});

test('the role of the service finds its tables migrated, and says what to do when they are not', async () => {
  expect(await prepareDatabase({ ownerUrl: database.serviceUrl, serviceUrl: database.serviceUrl })).toEqual(
    [],
  );
  const name = `plain_roles_${process.pid}`;
  await query(inject('databaseServer'), `create database ${name}`);
  try {
    const serviceUrl = urlOf(database.serviceUrl, name);
    await expect(prepareDatabase({ ownerUrl: serviceUrl, serviceUrl })).rejects.toThrow(/npm run migrate/);
    const ownerUrl = urlOf(database.url, name);
    expect(await prepareDatabase({ ownerUrl, serviceUrl })).toEqual([]);
    expect(await prepareDatabase({ ownerUrl, serviceUrl: ownerUrl })).toEqual([
      expect.stringContaining('is a superuser'),
    ]);
  } finally {
    await query(inject('databaseServer'), `drop database ${name} with (force)`);
  }
});
