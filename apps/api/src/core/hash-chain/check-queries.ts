import { sql, type SqlExecutor } from '../../db/client.ts';

export interface CheckRow<Verdict> {
  id: number;
  startedAt: Date;
  startedBy: string;
  seal: string | null;
  isAlive: boolean;
  done: number;
  finishedAt: Date | null;
  verdict: Verdict | null;
}

const columns = sql`"id", "startedAt", "startedBy", "seal", "aliveAt" > now() - interval '2 minutes' as "isAlive", "done", "finishedAt", "verdict"`;

export async function readNewestCheck<Verdict>(execute: SqlExecutor): Promise<CheckRow<Verdict> | null> {
  const [row] = await execute<CheckRow<Verdict>>(
    sql`select ${columns} from "chain_check" order by "chain_check"."id" desc limit 1`,
  );
  return row ?? null;
}

/** Begins a check unless one is under way; call it in the transaction that holds the lock of the chain. */
export async function addCheck<Verdict>(
  execute: SqlExecutor,
  { startedBy, seal }: { startedBy: string; seal: string | null },
): Promise<CheckRow<Verdict> | null> {
  const [row] = await execute<CheckRow<Verdict>>(sql`
    insert into "chain_check" ("startedBy", "seal") select ${startedBy}, ${seal}
     where not exists (select from "chain_check" where "finishedAt" is null and "aliveAt" > now() - interval '2 minutes')
    returning ${columns}`);
  return row ?? null;
}

export const noteProgress = (execute: SqlExecutor, { done, id }: { id: number; done: number }) =>
  execute(sql`update "chain_check" set "aliveAt" = now(), "done" = ${done}::float8 where "id" = ${id}`);

export const finishCheck = (execute: SqlExecutor, { verdict, id }: { id: number; verdict: object }) =>
  execute(sql`
    update "chain_check" set "aliveAt" = now(), "done" = 1, "finishedAt" = now(), "verdict" = ${JSON.stringify(verdict)}::jsonb
     where "id" = ${id}`);

/** A check that could not go on has no verdict and is no longer alive. */
export const breakOffCheck = (execute: SqlExecutor, id: number) =>
  execute(sql`update "chain_check" set "aliveAt" = "startedAt" - interval '1 day' where "id" = ${id}`);

export async function readChainState(execute: SqlExecutor) {
  const [row] = await execute<{
    entries: number;
    newestAt: Date | null;
    keyId: string | null;
    waiting: number;
    lastWholeAt: Date | null;
  }>(sql`
    select coalesce(l."position", 0)::float8 as "entries", l."linkedAt" as "newestAt", l."keyId",
           (select count(*)::int from (select from "chain_queue" limit 100000) q) as "waiting",
           (select "finishedAt" from "chain_check" where "verdict" @> '{"whole": true}' order by "id" desc limit 1) as "lastWholeAt"
      from (select 1) one left join lateral (select * from "chain_link" order by "position" desc limit 1) l on true`);
  if (row === undefined) throw new Error('the state of the chain was not read');
  return row;
}
