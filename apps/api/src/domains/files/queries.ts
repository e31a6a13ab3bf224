import { sql, type Run } from '../../db/client.ts';

export interface FileRow {
  id: number;
  name: string;
  mediaType: string;
  sizeBytes: number;
  sha256: Uint8Array;
  createdBy: string;
  createdAt: Date;
}

/** Several files by their keys, in no order. */
export const readFiles = (run: Run, ids: readonly number[]) =>
  run<FileRow>(sql`
    select f."id", f."name", f."mediaType", f."sizeBytes", f."sha256", p."displayName" as "createdBy", f."createdAt"
      from "file" f join "person" p on p."id" = f."createdById"
     where f."id" = any(${[...ids]})`);

export async function readFile(run: Run, id: number): Promise<FileRow | null> {
  const [row] = await readFiles(run, [id]);
  return row ?? null;
}

export async function addFile(
  run: Run,
  of: { name: string; mediaType: string; sizeBytes: number; sha256: Buffer; createdById: number },
): Promise<number> {
  const [row] = await run<{ id: number }>(sql`
    insert into "file" ("name", "mediaType", "sizeBytes", "sha256", "createdById")
    values (${of.name}, ${of.mediaType}, ${of.sizeBytes}, ${of.sha256}, ${of.createdById})
    returning "id"`);
  if (row === undefined) throw new Error('the file was not added');
  return row.id;
}

export const addChunk = (run: Run, of: { fileId: number; seq: number; bytes: Buffer }) =>
  run(sql`insert into "file_chunk" ("fileId", "seq", "bytes") values (${of.fileId}, ${of.seq}, ${of.bytes})`);

export async function readChunk(run: Run, fileId: number, seq: number): Promise<Buffer | null> {
  const [row] = await run<{ bytes: Buffer }>(
    sql`select "bytes" from "file_chunk" where "fileId" = ${fileId} and "seq" = ${seq}`,
  );
  return row?.bytes ?? null;
}

/** Notes that files have become part of a record, so that they stay. */
export const keepFiles = (run: Run, ids: readonly number[]) =>
  run(sql`update "file" set "attachedAt" = now() where "id" = any(${[...ids]}) and "attachedAt" is null`);

/** Drops what was sent two days ago or earlier and never became part of any record. */
export const dropNeverAttached = (run: Run) =>
  run(sql`
    with gone as (
      select "id" from "file" where "attachedAt" is null and "createdAt" < now() - interval '2 days'
       order by "id" limit 20 for update skip locked),
    measured as (delete from "measurement" where "fileId" in (select "id" from gone)),
    chunks as (delete from "file_chunk" where "fileId" in (select "id" from gone))
    delete from "file" where "id" in (select "id" from gone)`);
