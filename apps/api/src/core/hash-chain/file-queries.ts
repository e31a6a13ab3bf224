import { sql, type SqlExecutor } from '../../db/client.ts';

export const readAttached = (execute: SqlExecutor, { after, limit }: { after: number; limit: number }) =>
  execute<{ id: number; name: string; sha256: string }>(sql`
    select "id", "name", encode("sha256", 'hex') as "sha256" from "file"
     where "attachedAt" is not null and "id" > ${after} order by "file"."id" limit ${limit}`);

/** The SHA-256 of what is stored of each file; a file without content is missing. */
export async function readFoundDigests(
  execute: SqlExecutor,
  ids: readonly number[],
): Promise<Map<number, string>> {
  const rows = await execute<{ fileId: number; sha256: string }>(sql`
    select "fileId", encode(sha256(string_agg("bytes", ''::bytea order by "seq")), 'hex') as "sha256"
      from "file_chunk" where "fileId" = any(${[...ids]}::int[]) group by "fileId"`);
  return new Map(rows.map(({ fileId, sha256 }) => [fileId, sha256]));
}

/** Papers whose stored bytes do not have the SHA-256 of their row any more. */
export const readAlteredPapers = (execute: SqlExecutor) =>
  execute<{ id: number; title: string }>(sql`
    select "id", "title" from "issued_paper" where sha256("bytes") <> "sha256" order by "id" limit 1000`);

export async function readLastAttached(execute: SqlExecutor): Promise<number> {
  const [row] = await execute<{ id: number | null }>(
    sql`select max("id") as "id" from "file" where "attachedAt" is not null`,
  );
  return row?.id ?? 0;
}
