import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';

/** One record as the chain sees it. */
export interface Content {
  recordId: string;
  /** False when the record is there, but no longer in the state that was chained. */
  stands: boolean;
  /** A JSON object of the columns, in their order. */
  content: string;
  label: string | null;
}

/** What to read of a table. */
export interface Reading {
  table: string;
  columns: readonly string[];
  when: string | undefined;
  label: string | undefined;
}

const quoted = (name: string) => `"${name.replaceAll('"', '""')}"`;
const literal = (text: string) => `'${text.replaceAll("'", "''")}'`;

/** A column as an entry names it: `quantity`, or `snapshot - recipe,rack` for a document without these keys. */
function expression(column: string): string {
  const [name = '', keys] = column.split(' - ');
  const value = `t.${quoted(name)}`;
  return `${keys === undefined ? value : `${value} - string_to_array(${literal(keys)}, ',')`} as ${quoted(name)}`;
}

/** The same record reads the same whatever the settings of the connection are. */
export const readAlike = async (execute: SqlExecutor): Promise<void> => {
  await execute(sql`
    select set_config('TimeZone', 'UTC', true), set_config('extra_float_digits', '1', true), set_config('bytea_output', 'hex', true),
           set_config('IntervalStyle', 'iso_8601', true)`);
};

const selectContent = ({ table, columns, when, label }: Reading) => `
  select t."id"::text as "recordId", coalesce((${when ?? 'true'}), false) as "stands",
         (select row_to_json(x)::text from (select ${columns.map(expression).join(', ')}) x) as "content",
         (${label ?? 'null'})::text as "label"
    from ${quoted(table)} t`;

/** Records of one table by their keys; those that are gone are missing. */
export const readContent = (
  execute: SqlExecutor,
  reading: Reading,
  ids: readonly string[],
): Promise<Content[]> =>
  execute<Content>(
    sql`${Prisma.raw(selectContent(reading))} where t."id" = any(${[...ids]}::bigint[]) order by t."id"`,
  );

/** Those of the records that stand and have no entry yet. */
export const readUnlinked = (
  execute: SqlExecutor,
  reading: Reading,
  { ids, part }: { part: string; ids: readonly string[] },
) =>
  execute<Content>(sql`
    ${Prisma.raw(selectContent(reading))}
     where t."id" = any(${[...ids]}::bigint[]) and (${Prisma.raw(reading.when ?? 'true')})
       and not exists (select from "chain_link" l
                        where l."tableName" = ${reading.table} and l."part" = ${part} and l."recordId" = t."id")
     order by t."id"`);

/** Records that stand, have no entry and wait for none: they came past the rules of the database. */
export const readNeverQueued = (
  execute: SqlExecutor,
  {
    label,
    table,
    when,
    part,
    limit,
  }: { table: string; part: string; when: string | undefined; label: string | undefined; limit: number },
) =>
  execute<{ recordId: string; label: string | null }>(sql`
    select t."id"::text as "recordId", (${Prisma.raw(label ?? 'null')})::text as "label"
      from ${Prisma.raw(quoted(table))} t
     where (${Prisma.raw(when ?? 'true')})
       and not exists (select from "chain_link" l where l."tableName" = ${table} and l."part" = ${part} and l."recordId" = t."id")
       and not exists (select from "chain_queue" q where q."tableName" = ${table} and q."recordId" = t."id")
     order by t."id" limit ${limit}`);

/** The rows of `table` that were issued with the records `ids` of another table. */
export async function readIssuedWith(
  execute: SqlExecutor,
  { find, table, ids }: { table: string; find: string; ids: readonly string[] },
): Promise<string[]> {
  const [before = '', after = ''] = find.split('$1');
  const rows = await execute<{ id: string }>(sql`
    select "id"::text from ${Prisma.raw(quoted(table))}
     where ${Prisma.raw(before)}${[...ids]}${Prisma.raw(after)} order by "id"`);
  return rows.map(({ id }) => id);
}

/** The columns of every table, in their order by name. */
export async function readColumns(execute: SqlExecutor): Promise<Map<string, string[]>> {
  const rows = await execute<{ table: string; columns: string[] }>(sql`
    select c.relname::text as "table", array_agg(a.attname::text order by a.attname::text collate "C") as "columns"
      from pg_class c join pg_attribute a on a.attrelid = c.oid
     where c.relnamespace = current_schema()::regnamespace and c.relkind = 'r' and a.attnum > 0 and not a.attisdropped
     group by c.relname`);
  return new Map(rows.map(({ table, columns }) => [table, columns]));
}
