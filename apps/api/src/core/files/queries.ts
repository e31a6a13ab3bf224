import { sql, type SqlExecutor } from '../../db/client.ts';

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
export const readFiles = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<FileRow>(sql`
    select f."id", f."name", f."mediaType", f."sizeBytes", f."sha256", f."snapshot" ->> 'createdBy' as "createdBy", f."createdAt"
      from "file" f
     where f."id" = any(${[...ids]})`);

export async function readFile(execute: SqlExecutor, id: number): Promise<FileRow | null> {
  const [row] = await readFiles(execute, [id]);
  return row ?? null;
}

/** Who sent a file, and on which records it hangs. */
export interface FileUses {
  id: number;
  createdById: number;
  isOnPart: boolean;
  isInLab: boolean;
  isOnStandard: boolean;
  isOnEnquiry: boolean;
  isOnRecipe: boolean;
  isOnNonconformance: boolean;
  isOnCompetence: boolean;
}

export const readFileUses = (execute: SqlExecutor, ids: readonly number[]) =>
  execute<FileUses>(sql`
    select "id", "createdById",
           exists (select from "part_file" where "fileId" = f."id")
             or exists (select from "measurement" where "fileId" = f."id") as "isOnPart",
           exists (select from "chemical" where "sdsFileId" = f."id")
             or exists (select from "analysis" where "outsideFileId" = f."id")
             or exists (select from "coupon_photo" where "fileId" = f."id")
             or exists (select from "film_measurement" where "fileId" = f."id")
             or exists (select from "instrument_calibration" where "fileId" = f."id")
             or exists (select from "exposure_observation" where "photoId" = f."id") as "isInLab",
           exists (select from "colour_standard_revision" where "photoId" = f."id") as "isOnStandard",
           exists (select from "enquiry_picture" where "fileId" = f."id") as "isOnEnquiry",
           exists (select from "recipe_provenance_file" where "fileId" = f."id") as "isOnRecipe",
           exists (select from "nonconformance_entry" where "fileId" = f."id") as "isOnNonconformance",
           exists (select from "competence" where "fileId" = f."id") as "isOnCompetence"
      from "file" f where "id" = any(${[...ids]})`);

export async function addFile(
  execute: SqlExecutor,
  {
    name,
    mediaType,
    sizeBytes,
    sha256,
    createdById,
  }: { name: string; mediaType: string; sizeBytes: number; sha256: Buffer; createdById: number },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "file" ("name", "mediaType", "sizeBytes", "sha256", "createdById")
    values (${name}, ${mediaType}, ${sizeBytes}, ${sha256}, ${createdById})
    returning "id"`);
  if (row === undefined) throw new Error('the file was not added');
  return row.id;
}

export const addChunk = (
  execute: SqlExecutor,
  { fileId, seq, bytes }: { fileId: number; seq: number; bytes: Buffer },
) => execute(sql`insert into "file_chunk" ("fileId", "seq", "bytes") values (${fileId}, ${seq}, ${bytes})`);

export async function readChunk(execute: SqlExecutor, fileId: number, seq: number): Promise<Buffer | null> {
  const [row] = await execute<{ bytes: Buffer }>(
    sql`select "bytes" from "file_chunk" where "fileId" = ${fileId} and "seq" = ${seq}`,
  );
  return row?.bytes ?? null;
}

/** Notes that files have become part of a record, so that they stay. */
export const keepFiles = (execute: SqlExecutor, ids: readonly number[]) =>
  execute(sql`update "file" set "attachedAt" = now() where "id" = any(${[...ids]}) and "attachedAt" is null`);

/** Drops what was sent two days ago or earlier and never became part of any record. */
export const dropNeverAttached = (execute: SqlExecutor) =>
  execute(sql`
    with gone as (
      select "id" from "file" where "attachedAt" is null and "createdAt" < now() - interval '2 days'
       order by "id" limit 20 for update skip locked),
    measured as (delete from "measurement" where "fileId" in (select "id" from gone)),
    chunks as (delete from "file_chunk" where "fileId" in (select "id" from gone))
    delete from "file" where "id" in (select "id" from gone)`);
