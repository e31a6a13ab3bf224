import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

/** Fills that stand in their tanks and are watched. */
export const readWatchedBaths = (execute: SqlExecutor) =>
  execute<{ id: number; number: string; madeUpAt: Date; tankCode: string; tankName: string }>(sql`
    select b."id", b."number", b."madeUpAt", t."code" as "tankCode", t."name" as "tankName"
      from "bath" b join "tank" t on t."id" = b."tankId"
     where b."dumpedAt" is null and exists (select 1 from "bath_setup" s where s."bathId" = b."id")
     order by t."lineOrder", t."code"`);
export const readPlannedAdditions = (execute: SqlExecutor) =>
  execute<{
    number: string;
    bathId: number;
    bathNumber: string;
    tankCode: string;
    tankName: string;
    plannedBy: string;
    plannedAt: Date;
  }>(sql`
    select x."number", b."id" as "bathId", b."number" as "bathNumber", t."code" as "tankCode", t."name" as "tankName",
           p."displayName" as "plannedBy", x."plannedAt"
      from "addition" x join "bath" b on b."id" = x."bathId" join "tank" t on t."id" = b."tankId"
      join "person" p on p."id" = x."plannedById"
     where x."state" = 'planned' order by x."plannedAt"`);

export async function readMine(execute: SqlExecutor, personId: number) {
  const [row] = await execute<{ email: boolean; address: string | null }>(sql`
    select coalesce(r."email", false) as "email", p."email" as "address"
      from "person" p left join "lab_reminder" r on r."personId" = p."id" where p."id" = ${personId}`);
  const feeds = await execute<{ id: number; createdAt: Date; lastReadAt: Date | null }>(sql`
    select "id", "createdAt", "lastReadAt" from "calendar_feed" where "personId" = ${personId} and "revokedAt" is null order by "id"`);
  return { email: row?.email ?? false, address: row?.address ?? null, feeds };
}
export const setEmail = (execute: SqlExecutor, { personId, email }: { personId: number; email: boolean }) =>
  execute(sql`
    insert into "lab_reminder" ("personId", "email") values (${personId}, ${email})
    on conflict ("personId") do update set "email" = excluded."email"`);

export const addFeed = (db: Queryable, options: { personId: number; secretHash: Uint8Array<ArrayBuffer> }) =>
  db.prisma.calendarFeed.create({ data: options, select: { id: true } });
export const revokeFeed = (execute: SqlExecutor, { id, personId }: { id: number; personId: number }) =>
  execute<{ id: number }>(sql`
    update "calendar_feed" set "revokedAt" = now()
     where "id" = ${id} and "personId" = ${personId} and "revokedAt" is null returning "id"`);
/** Whose feed a secret opens, while the account is active; notes that it was read. */
export async function openFeed(
  execute: SqlExecutor,
  secretHash: Uint8Array,
): Promise<{ personId: number } | null> {
  const [row] = await execute<{ personId: number }>(sql`
    update "calendar_feed" f set "lastReadAt" = now() from "person" p
     where f."secretHash" = ${secretHash} and f."revokedAt" is null and p."id" = f."personId" and p."active"
    returning f."personId"`);
  return row ?? null;
}
export async function readShopName(execute: SqlExecutor): Promise<string> {
  const [row] = await execute<{ name: string }>(sql`select "name" from "shop"`);
  return row?.name ?? '';
}
export const notSent = (execute: SqlExecutor, personId: number) =>
  execute(sql`update "lab_reminder" set "lastSentOn" = null where "personId" = ${personId}`);
/** Who gets a digest today and did not have it yet; taking a name here means that it is sent. */
export const takeWhoIsDue = (execute: SqlExecutor) =>
  execute<{ personId: number; name: string; email: string }>(sql`
    update "lab_reminder" r set "lastSentOn" = today."day"
      from "person" p, (select (now() at time zone "timeZone")::date as "day", extract(hour from now() at time zone "timeZone") as "hour" from "shop") today
     where p."id" = r."personId" and r."email" and p."active" and p."email" is not null and p."email" <> ''
       and today."hour" >= 6 and r."lastSentOn" is distinct from today."day"
    returning r."personId", p."displayName" as "name", p."email"`);

/** What else the lab sees to, each in one line: baths on hold, chemicals to buy, lots past their date, calibrations. */
export async function readShelf(
  execute: SqlExecutor,
): Promise<{ held: string[]; low: string[]; expired: string[]; calibrations: string[] }> {
  const today = sql`(now() at time zone (select "timeZone" from "shop"))::date`;
  const balance = sql`(select m."balanceKg" from "stock_movement" m where m."lotId" = l."id" order by m."id" desc limit 1)`;
  const lines = async (query: ReturnType<typeof sql>) =>
    (await execute<{ line: string }>(query)).map(({ line }) => line);
  return {
    held: await lines(sql`
      select t."code" || ', ' || b."number" || ': ' || h."reason" as "line"
        from "bath_hold" h join "bath" b on b."id" = h."bathId" join "tank" t on t."id" = b."tankId"
       where h."releasedAt" is null and b."dumpedAt" is null order by t."lineOrder", h."id"`),
    low: await lines(sql`
      select c."code" || ' ' || c."name" || ': ' || round(s."kg"::numeric, 1) || ' kg left, reorder point ' || c."reorderPointKg" || ' kg' as "line"
        from "chemical" c cross join lateral (
          select coalesce(sum(${balance}), 0) as "kg" from "chemical_lot" l where l."chemicalId" = c."id" and l."status" = 'open') s
       where c."archivedAt" is null and s."kg" < c."reorderPointKg" order by c."code"`),
    expired: await lines(sql`
      select c."code" || ' lot ' || l."supplierLot" || ': ' || l."expiresOn" as "line"
        from "chemical_lot" l join "chemical" c on c."id" = l."chemicalId"
       where l."status" = 'open' and l."expiresOn" < ${today} and ${balance} > 0 order by l."expiresOn", l."id"`),
    calibrations: await lines(sql`
      select i."code" || ' ' || i."name" || ': due ' || i."calibrationDueOn" as "line"
        from "instrument" i where i."archivedAt" is null and i."calibrationDueOn" < ${today} order by i."calibrationDueOn", i."id"`),
  };
}
