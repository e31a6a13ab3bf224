import type { ImportKind } from '@huelot/contracts';
import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export interface KnownRecord {
  id: number;
  name: string;
  /** What makes it one of a kind, in lower case. */
  one: string;
}
export const readCustomers = (execute: SqlExecutor) =>
  execute<KnownRecord & { number: string; open: boolean }>(sql`
    select "id", "number", "number" || ' ' || "name" as "name", lower("name") as "one",
           "archivedAt" is null and "mergedIntoId" is null as "open" from "customer"`);
export const readMaterials = (execute: SqlExecutor) =>
  execute<KnownRecord & { plain: string; designation: string; open: boolean }>(sql`
    select "id", concat_ws(', ', "name", nullif("condition", '')) as "name", lower("name") as "plain",
           lower("designation") as "designation", "archivedAt" is null as "open",
           lower(concat_ws(', ', "name", nullif("condition", ''))) as "one" from "material"`);
export const readChemicals = (execute: SqlExecutor) =>
  execute<KnownRecord>(
    sql`select "id", "code" || ' ' || "name" as "name", lower("code") as "one" from "chemical"`,
  );
export const readParts = (execute: SqlExecutor) =>
  execute<KnownRecord>(sql`
    select "id", "number" || ' rev ' || "revision" as "name",
           "customerId" || ' ' || lower("number") || ' ' || lower("revision") as "one" from "part"`);
export const readCurrency = async (execute: SqlExecutor): Promise<string> =>
  (await execute<{ currency: string }>(sql`select "currency" from "shop" where "id" = 1`))[0]?.currency ??
  'EUR';

/** The import that a file was already, if it was. */
export async function readImport(
  execute: SqlExecutor,
  { kind, sha256 }: { kind: ImportKind; sha256: Buffer },
) {
  const [row] = await execute<{ at: Date; by: string; records: number }>(sql`
    select i."at", p."displayName" as "by", i."records" from "table_import" i join "person" p on p."id" = i."personId"
     where i."kind" = ${kind} and i."sha256" = ${sha256}`);
  return row ?? null;
}
export const addImport = (
  db: Queryable,
  data: { kind: ImportKind; sha256: Uint8Array<ArrayBuffer>; personId: number; records: number },
) => db.prisma.tableImport.create({ data });
/** One import of a kind at a time: what one brings, the next finds there. */
export const lockImports = (execute: SqlExecutor, kind: ImportKind) =>
  execute(sql`select pg_advisory_xact_lock(hashtextextended(${`import ${kind}`}, 0))::text`);
