import { sql, type SqlExecutor } from '../../db/client.ts';

/** One entry of the chain. */
export interface Link {
  position: number;
  formId: number;
  tableName: string;
  part: string;
  recordId: string;
  linkedAt: Date;
  keyId: string;
  contentDigest: Buffer;
  digest: Buffer;
}

/** Which columns of a table entries cover. */
export interface Form {
  id: number;
  tableName: string;
  part: string;
  columns: string[];
}

/** One process after the other makes entries: two ends would be two chains. */
const LOCK = 72_707_091;

/** Takes the lock until the transaction ends; without `wait` says whether it was free. */
export async function lockChain(execute: SqlExecutor, { wait }: { wait: boolean }): Promise<boolean> {
  if (wait) {
    await execute(sql`select pg_advisory_xact_lock(${LOCK}::bigint)::text`);
    return true;
  }
  const [row] = await execute<{ taken: boolean }>(
    sql`select pg_try_advisory_xact_lock(${LOCK}::bigint) as "taken"`,
  );
  return row?.taken ?? false;
}

export async function isAnythingQueued(execute: SqlExecutor): Promise<boolean> {
  const [row] = await execute<{ any: boolean }>(sql`select exists (select from "chain_queue") as "any"`);
  return row?.any ?? false;
}

/** The oldest that wait. What commits later under an earlier number is found the next time: nothing is counted on. */
export const readQueue = (execute: SqlExecutor, limit: number) =>
  execute<{ id: string; tableName: string; recordId: string }>(sql`
    select "id"::text, "tableName", "recordId"::text from "chain_queue" order by "chain_queue"."id" limit ${limit}`);

export const dropQueued = (execute: SqlExecutor, ids: readonly string[]) =>
  execute(sql`delete from "chain_queue" where "id" = any(${[...ids]}::bigint[])`);

const columns = sql`"position"::float8, "formId", "tableName", "part", "recordId"::text, "linkedAt", "keyId", "contentDigest", "digest"`;

export async function readHead(execute: SqlExecutor): Promise<Link | null> {
  const [row] = await execute<Link>(
    sql`select ${columns} from "chain_link" order by "chain_link"."position" desc limit 1`,
  );
  return row ?? null;
}

export const readLinks = (execute: SqlExecutor, { after, limit }: { after: number; limit: number }) =>
  execute<Link>(sql`
    select ${columns} from "chain_link" where "position" > ${after}::bigint order by "chain_link"."position" limit ${limit}`);

export async function readLinkAt(execute: SqlExecutor, position: number): Promise<Link | null> {
  const [row] = await execute<Link>(
    sql`select ${columns} from "chain_link" where "position" = ${position}::bigint`,
  );
  return row ?? null;
}

/** The entry of another record of the table that held this content when it was made. */
export async function readLinkOfContent(
  execute: SqlExecutor,
  {
    tableName,
    part,
    contentDigest,
    notOf,
  }: { tableName: string; part: string; contentDigest: Buffer; notOf: string },
): Promise<Link | null> {
  const [row] = await execute<Link>(sql`
    select ${columns} from "chain_link"
     where "tableName" = ${tableName} and "part" = ${part} and "contentDigest" = ${contentDigest}
       and "recordId" <> ${notOf}::bigint
     order by "chain_link"."position" limit 1`);
  return row ?? null;
}

export const addLinks = (execute: SqlExecutor, links: readonly Link[]) =>
  execute(sql`
    insert into "chain_link" ("position", "formId", "tableName", "part", "recordId", "linkedAt", "keyId", "contentDigest", "digest")
    select p, f, t, w, r, ${links[0]?.linkedAt ?? null}::timestamptz, ${links[0]?.keyId ?? null}, decode(c, 'hex'), decode(d, 'hex')
      from unnest(${links.map(({ position }) => position)}::bigint[], ${links.map(({ formId }) => formId)}::int[],
        ${links.map(({ tableName }) => tableName)}::text[], ${links.map(({ part }) => part)}::text[],
        ${links.map(({ recordId }) => recordId)}::bigint[], ${links.map((link) => link.contentDigest.toString('hex'))}::text[],
        ${links.map((link) => link.digest.toString('hex'))}::text[]) as x (p, f, t, w, r, c, d)`);

export const readForms = (execute: SqlExecutor) =>
  execute<Form>(
    sql`select "id", "tableName", "part", "columns" from "chain_form" order by "chain_form"."id"`,
  );

export async function addForm(
  execute: SqlExecutor,
  { tableName, part, columns }: Omit<Form, 'id'>,
): Promise<Form> {
  const [row] = await execute<Form>(sql`
    insert into "chain_form" ("tableName", "part", "columns") values (${tableName}, ${part}, ${columns})
    returning "id", "tableName", "part", "columns"`);
  if (row === undefined) throw new Error('the form was not added');
  return row;
}

/** When the transaction began, to the millisecond, as an entry keeps it. */
export async function readNow(execute: SqlExecutor): Promise<Date> {
  const [row] = await execute<{ now: Date }>(sql`select now()::timestamptz(3) as "now"`);
  if (row === undefined) throw new Error('the database has no clock');
  return row.now;
}

export async function isChainEmpty(execute: SqlExecutor): Promise<boolean> {
  const [row] = await execute<{ empty: boolean }>(
    sql`select not exists (select from "chain_link") as "empty"`,
  );
  return row?.empty ?? true;
}
