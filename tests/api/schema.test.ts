import { expect, inject, test } from 'vitest';
import pg from 'pg';
import { testDatabase } from '../support/database.ts';
import { query, urlOf } from '../support/database-server.ts';
import { schemaAsSql } from '../support/schema-engine.ts';

const described = `
  select 'column ' || c.table_name || '.' || c.column_name || ' ' || c.udt_name || ' ' || c.is_nullable || ' ' ||
         coalesce(c.numeric_precision::text, '') || ',' || coalesce(c.numeric_scale::text, '') as what
    from information_schema.columns c join information_schema.tables t using (table_schema, table_name)
   where c.table_schema = 'public' and t.table_type = 'BASE TABLE' and c.table_name <> '_prisma_migrations'
  union all
  select 'key ' || conrelid::regclass || ' ' || pg_get_constraintdef(oid) from pg_constraint
   where connamespace = 'public'::regnamespace and contype in ('f', 'p') and conrelid::regclass::text <> '_prisma_migrations'
  order by 1`;

test('the migrations build what the schema of the client describes', async () => {
  const migrated = await testDatabase();
  const server = inject('databaseServer');
  const name = `plain_${process.pid}`;
  await query(server, `create database ${name}`);
  const plain = new pg.Client({ connectionString: urlOf(server, name) });
  await plain.connect();
  try {
    await plain.query(await schemaAsSql(urlOf(server, name)));
    const expected = await plain.query<{ what: string }>(described);
    const found = await migrated.pool.query<{ what: string }>(described);
    expect(expected.rows.length).toBeGreaterThan(200);
    expect(found.rows.map(({ what }) => what)).toEqual(expected.rows.map(({ what }) => what));
  } finally {
    await plain.end();
    await query(server, `drop database ${name} with (force)`);
  }
});
