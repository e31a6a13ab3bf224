import { sql, type SqlExecutor } from '../../db/client.ts';

export interface SealRow {
  id: number;
  position: number;
  digest: string;
  sealedAt: Date;
  sealedBy: string;
}

const columns = sql`"id", "position"::float8, encode("digest", 'hex') as "digest", "sealedAt", "sealedBy"`;

/** The newest seals first. */
export const readSeals = (
  execute: SqlExecutor,
  { before, limit }: { limit: number; before: number | null },
) =>
  execute<SealRow>(sql`
    select ${columns} from "chain_seal" where ${before}::int is null or "id" < ${before}::int
     order by "chain_seal"."id" desc limit ${limit}`);

export async function readSeal(execute: SqlExecutor, id: number): Promise<SealRow | null> {
  const [row] = await execute<SealRow>(sql`select ${columns} from "chain_seal" where "id" = ${id}`);
  return row ?? null;
}

/** Seals whose entry is missing or has another digest, oldest first. */
export const readBrokenSeals = (execute: SqlExecutor, limit: number) =>
  execute<SealRow & { isThere: boolean }>(sql`
    select s."id", s."position"::float8, encode(s."digest", 'hex') as "digest", s."sealedAt", s."sealedBy",
           l."position" is not null as "isThere"
      from "chain_seal" s left join "chain_link" l on l."position" = s."position"
     where l."digest" is distinct from s."digest" order by s."position", s."id" limit ${limit}`);

/** Seals the newest entry, unless there is none, or it is sealed and `again` is false. */
export async function addSeal(
  execute: SqlExecutor,
  { sealedBy, again }: { sealedBy: string; again: boolean },
): Promise<SealRow | null> {
  const [row] = await execute<SealRow>(sql`
    insert into "chain_seal" ("position", "digest", "sealedBy")
    select l."position", l."digest", ${sealedBy} from (select * from "chain_link" order by "position" desc limit 1) l
     where ${again} or not exists (select from "chain_seal" s where s."position" = l."position")
    returning ${columns}`);
  return row ?? null;
}

/** Whether no seal was made since yesterday at this time. */
export async function isSealDue(execute: SqlExecutor): Promise<boolean> {
  const [row] = await execute<{ due: boolean }>(sql`
    select not exists (select from "chain_seal" where "sealedAt" > now() - interval '24 hours') as "due"`);
  return row?.due ?? false;
}

export async function readShopFacts(execute: SqlExecutor): Promise<{ name: string; timeZone: string }> {
  const [shop] = await execute<{ name: string; timeZone: string }>(
    sql`select "name", "timeZone" from "shop"`,
  );
  if (shop === undefined) throw new Error('there is no shop');
  return shop;
}
