import { sql, type SqlExecutor } from '../../db/client.ts';

/** One thing that may be guessed at only so often: an account, an address, a pair of both. */
export interface Limit {
  key: string;
  allowed: number;
  windowS: number;
}
export interface Reserved {
  key: string;
  count: number;
  endsAt: Date;
}

/**
 * Counts one attempt against each limit that has room, and returns those. Rows are locked in the order of their key,
 * so that two attempts never wait for each other.
 */
export const countAttempt = (execute: SqlExecutor, limits: readonly Limit[]) =>
  execute<Reserved>(sql`
    insert into "attempt_window" as w ("key", "endsAt", "count", "allowed")
    select l."key", now() + make_interval(secs => l."windowS"), 1, l."allowed"
      from unnest(${limits.map(({ key }) => key)}::text[], ${limits.map(({ windowS }) => windowS)}::int[],
                  ${limits.map(({ allowed }) => allowed)}::int[]) as l ("key", "windowS", "allowed")
     order by l."key"
    on conflict ("key") do update
       set "count" = case when w."endsAt" <= now() then 1 else w."count" + 1 end,
           "endsAt" = case when w."endsAt" <= now() then excluded."endsAt" else w."endsAt" end,
           "allowed" = excluded."allowed"
     where w."endsAt" <= now() or w."count" < excluded."allowed"
    returning "key", "count", "endsAt"`);

/** When the last of these windows ends that is used up; null while there is room in all. */
export async function lastEnd(execute: SqlExecutor, keys: readonly string[]): Promise<Date | null> {
  const [row] = await execute<{ endsAt: Date | null }>(
    sql`select max("endsAt") as "endsAt" from "attempt_window"
         where "key" = any(${[...keys]}::text[]) and "count" >= "allowed" and "endsAt" > now()`,
  );
  return row?.endsAt ?? null;
}

/** Takes an attempt off again that turned out not to be a guess. */
export const uncountAttempt = (execute: SqlExecutor, reserved: readonly Reserved[]) =>
  execute(sql`
    with held as (
      select w."key" from "attempt_window" w
        join unnest(${reserved.map(({ key }) => key)}::text[], ${reserved.map(({ endsAt }) => endsAt)}::timestamptz[])
             as r ("key", "endsAt") on r."key" = w."key" and r."endsAt" = w."endsAt"
       order by w."key" for update of w)
    update "attempt_window" w set "count" = greatest(w."count" - 1, 0) from held where held."key" = w."key"`);

/** Forgets the attempts at an account, whoever made them. */
export const forgetAttempts = (execute: SqlExecutor, keys: readonly string[]) =>
  execute(sql`delete from "attempt_window" where "key" = any(${[...keys]}::text[])`);

/** What no limit and no list needs any more: windows that passed, and sign-ins and devices that ended long ago. */
export async function sweep(execute: SqlExecutor): Promise<void> {
  await execute(sql`delete from "attempt_window" where "endsAt" < now()`);
  await execute(sql`delete from "sign_in_step" where "expiresAt" < now()`);
  await execute(sql`delete from "sign_in" where "lastSeenAt" < now() - interval '90 days'`);
  await execute(sql`delete from "known_device" where "lastUsedAt" < now() - interval '400 days'`);
  await execute(
    sql`delete from "one_time_link" where coalesce("usedAt", "expiresAt") < now() - interval '90 days'`,
  );
}
