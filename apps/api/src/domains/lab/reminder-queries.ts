import { sql, type Queryable, type Run } from '../../db/client.ts';

/** Fills that stand in their tanks and are watched. */
export const readWatchedBaths = (run: Run) =>
  run<{ id: number; number: string; madeUpAt: Date; tankCode: string; tankName: string }>(sql`
    select b."id", b."number", b."madeUpAt", t."code" as "tankCode", t."name" as "tankName"
      from "bath" b join "tank" t on t."id" = b."tankId"
     where b."dumpedAt" is null and exists (select 1 from "bath_setup" s where s."bathId" = b."id")
     order by t."lineOrder", t."code"`);
export const readPlannedAdditions = (run: Run) =>
  run<{
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

export async function readMine(run: Run, personId: number) {
  const [row] = await run<{ email: boolean; address: string | null }>(sql`
    select coalesce(r."email", false) as "email", p."email" as "address"
      from "person" p left join "lab_reminder" r on r."personId" = p."id" where p."id" = ${personId}`);
  const feeds = await run<{ id: number; createdAt: Date; lastReadAt: Date | null }>(sql`
    select "id", "createdAt", "lastReadAt" from "calendar_feed" where "personId" = ${personId} and "revokedAt" is null order by "id"`);
  return { email: row?.email ?? false, address: row?.address ?? null, feeds };
}
export const setEmail = (run: Run, of: { personId: number; email: boolean }) =>
  run(sql`
    insert into "lab_reminder" ("personId", "email") values (${of.personId}, ${of.email})
    on conflict ("personId") do update set "email" = excluded."email"`);

export const addFeed = (db: Queryable, of: { personId: number; secretHash: Uint8Array<ArrayBuffer> }) =>
  db.prisma.calendarFeed.create({ data: of, select: { id: true } });
export const revokeFeed = (run: Run, of: { id: number; personId: number }) =>
  run<{ id: number }>(sql`
    update "calendar_feed" set "revokedAt" = now()
     where "id" = ${of.id} and "personId" = ${of.personId} and "revokedAt" is null returning "id"`);
/** Whose feed a secret opens, while the account is active; notes that it was read. */
export async function openFeed(run: Run, secretHash: Uint8Array): Promise<{ personId: number } | null> {
  const [row] = await run<{ personId: number }>(sql`
    update "calendar_feed" f set "lastReadAt" = now() from "person" p
     where f."secretHash" = ${secretHash} and f."revokedAt" is null and p."id" = f."personId" and p."active"
    returning f."personId"`);
  return row ?? null;
}
export async function readShopName(run: Run): Promise<string> {
  const [row] = await run<{ name: string }>(sql`select "name" from "shop"`);
  return row?.name ?? '';
}
export const notSent = (run: Run, personId: number) =>
  run(sql`update "lab_reminder" set "lastSentOn" = null where "personId" = ${personId}`);
/** Who gets a digest today and did not have it yet; taking a name here means that it is sent. */
export const takeWhoIsDue = (run: Run) =>
  run<{ personId: number; name: string; email: string }>(sql`
    update "lab_reminder" r set "lastSentOn" = today."day"
      from "person" p, (select (now() at time zone "timeZone")::date as "day", extract(hour from now() at time zone "timeZone") as "hour" from "shop") today
     where p."id" = r."personId" and r."email" and p."active" and p."email" is not null and p."email" <> ''
       and today."hour" >= 6 and r."lastSentOn" is distinct from today."day"
    returning r."personId", p."displayName" as "name", p."email"`);
