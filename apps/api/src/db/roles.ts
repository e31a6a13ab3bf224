import { randomBytes } from 'node:crypto';
import pg from 'pg';
import { migrationLock } from './migrate.ts';

/** The role that owns the tables and migrates them, and the one the service works as, where Huelot makes them. */
export const ownerRole = 'huelot_owner';
export const serviceRole = 'huelot_service';

const name = pg.escapeIdentifier;

/** Tables whose rows the service adds and reads, and nothing else. */
const onlyGrow = ['audit_entry', 'chain_form', 'chain_link', 'chain_seal', 'issued_paper'];

/** Which role a connection works as; the address need not name it. */
export const readUser = (connectionString: string): Promise<string> =>
  withClient(connectionString, async (client) => {
    const { rows } = await client.query<{ user: string }>('select current_user::text as "user"');
    return rows[0]?.user ?? '';
  });

/**
 * Gives `role` what the service needs of a migrated database and no more: it reads and writes rows, and owns nothing, so
 * that it can neither switch triggers off nor empty a table. Call it as the owner, after each migration.
 */
export async function grantToService(connectionString: string, role: string): Promise<void> {
  await withClient(connectionString, async (client) => {
    const { rows } = await client.query<{ user: string; database: string; schema: string; isThere: boolean }>(
      `select current_user::text as "user", current_database()::text as database, current_schema()::text as schema, exists (select from pg_roles where rolname = $1) as "isThere"`,
      [role],
    );
    const schema = name(rows[0]?.schema ?? 'public');
    if (rows[0]?.user === role) return;
    if (rows[0]?.isThere !== true) throw new Error(`There is no database role ${role}.`);
    const to = name(role);
    await client.query(`
      begin;
      select pg_advisory_xact_lock(${migrationLock});
      revoke create on schema ${schema} from public;
      revoke all on all tables in schema ${schema} from ${to};
      grant connect, temporary on database ${name(rows[0].database)} to ${to};
      grant usage on schema ${schema} to ${to};
      grant select, insert, update, delete on all tables in schema ${schema} to ${to};
      revoke update, delete on ${onlyGrow.map(name).join(', ')} from ${to};
      revoke insert, update, delete on _prisma_migrations from ${to};
      grant usage, select on all sequences in schema ${schema} to ${to};
      commit`);
  });
}

/** What the role of a connection could do behind the record's back: why it should not be the one the service works as. */
export async function readPowers(
  connectionString: string,
): Promise<{ isSuperuser: boolean; ownsTables: boolean }> {
  return withClient(connectionString, async (client) => {
    const { rows } = await client.query<{ isSuperuser: boolean; ownsTables: boolean }>(
      `select rolsuper as "isSuperuser",
              exists (select from pg_class where relname = 'audit_entry' and relnamespace = current_schema()::regnamespace
                         and pg_has_role(relowner, 'usage')) as "ownsTables"
         from pg_roles where rolname = current_user`,
    );
    return rows[0] ?? { isSuperuser: false, ownsTables: false };
  });
}

/** Makes the running role of an embedded database, or gives it its password again. */
export async function provideServiceRole(connectionString: string, password: string): Promise<void> {
  await withClient(connectionString, async (client) => {
    const { rowCount } = await client.query('select from pg_roles where rolname = $1', [serviceRole]);
    const verb = rowCount === 0 ? 'create' : 'alter';
    await client.query(
      `${verb} role ${name(serviceRole)} login nosuperuser nocreatedb nocreaterole noreplication password ${pg.escapeLiteral(password)}`,
    );
  });
}

/**
 * Makes both roles on a server of the shop's own, and gives them the database that an administrator's connection names,
 * with whatever of Huelot is in it. Passwords are made here and returned; nothing keeps them.
 *
 * @throws Error when one of the roles is there already
 */
export async function makeRoles(connectionString: string): Promise<{ ownerUrl: string; serviceUrl: string }> {
  const [ownerUrl, serviceUrl] = [ownerRole, serviceRole].map((role) => {
    const url = new URL(connectionString);
    [url.username, url.password] = [role, randomBytes(24).toString('base64url')];
    return url;
  }) as [URL, URL];
  const isMigrated = await withClient(connectionString, async (client) => {
    const { rows: there } = await client.query<{ rolname: string }>(
      'select rolname from pg_roles where rolname = any($1)',
      [[ownerRole, serviceRole]],
    );
    if (there.length > 0)
      throw new Error(
        `The role ${there.map(({ rolname }) => rolname).join(' and ')} is there already. Give it a password with “alter role … password”, or drop it first.`,
      );
    await client.query('begin');
    for (const { username, password } of [ownerUrl, serviceUrl])
      await client.query(
        `create role ${name(username)} login nosuperuser password ${pg.escapeLiteral(password)}`,
      );
    await client.query(`select set_config('huelot.owner', $1, true)`, [ownerRole]);
    await client.query(handOver);
    const { rows } = await client.query<{ version: number; isMigrated: boolean }>(
      `select current_setting('server_version_num')::int as version, to_regclass('_prisma_migrations') is not null as "isMigrated"`,
    );
    // From PostgreSQL 15 on a role can be let restore without being a superuser.
    if ((rows[0]?.version ?? 0) >= 150_000)
      await client.query(`grant set on parameter session_replication_role to ${name(ownerRole)}`);
    await client.query('commit');
    return rows[0]?.isMigrated ?? false;
  });
  if (isMigrated) await grantToService(ownerUrl.href, serviceRole);
  return { ownerUrl: ownerUrl.href, serviceUrl: serviceUrl.href };
}

/** The database, its schema and all that Huelot made in it, but not what belongs to an extension, go to a role. */
const handOver = `
do $$
declare
  owner text := current_setting('huelot.owner');
  it record;
begin
  execute format('alter database %I owner to %I', current_database(), owner);
  execute format('alter schema %I owner to %I', current_schema(), owner);
  for it in
    select c.oid::regclass as name from pg_class c
     where c.relnamespace = current_schema()::regnamespace and c.relkind in ('r', 'p')
  loop
    execute format('alter table %s owner to %I', it.name, owner);
  end loop;
  for it in
    select p.oid::regprocedure as name from pg_proc p
     where p.pronamespace = current_schema()::regnamespace
       and not exists (select from pg_depend d where d.objid = p.oid and d.deptype = 'e')
  loop
    execute format('alter function %s owner to %I', it.name, owner);
  end loop;
end $$`;

async function withClient<T>(connectionString: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({ connectionString });
  client.on('error', () => undefined); // The query in flight reports it.
  await client.connect();
  try {
    return await work(client);
  } finally {
    await client.end();
  }
}
