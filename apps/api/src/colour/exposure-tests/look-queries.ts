import { sql, type Prisma, type SqlExecutor } from '../../db/client.ts';

export interface Look {
  testId: number;
  specimenId: number;
  day: string;
  /** `due` can still be entered, `missed` never again. */
  state: 'looked' | 'interrupted' | 'due' | 'missed';
  isToday: boolean;
}

/**
 * Every look that a test asks for until now, a row for each specimen and day. What nobody saw on the day is entered until
 * the end of the next; then it is missed for ever, since no older observation is taken.
 */
const looks = (which: Prisma.Sql) => sql`
  select t."id" as "testId", s."id" as "specimenId", d."day", d."day" = n."today" as "isToday",
         case when exists (select from "exposure_observation" o where o."specimenId" = s."id" and o."day" = d."day") then 'looked'
              when d."interrupted" then 'interrupted'
              when t."state" = 'ended' or d."day" < n."today" - 1 then 'missed'
              else 'due' end as "state"
    from "exposure_test" t
   cross join lateral (select (now() at time zone t."timeZone")::date as "today") n
   cross join lateral (
     select x."day", exists (
              select from "exposure_interruption" i
               where i."testId" = t."id" and i."fromAt" <= (x."day"::timestamp at time zone t."timeZone")
                 and coalesce(i."toAt", t."endedAt", 'infinity') >= ((x."day" + 1)::timestamp at time zone t."timeZone")) as "interrupted"
       from (select t."startDay" + k * t."lookEveryDays" as "day"
               from generate_series(1, (least(coalesce(t."endDay", n."today"), n."today") - t."startDay") / t."lookEveryDays") k) x) d
    join "exposure_specimen" s on s."testId" = t."id"
   where t."state" in ('running', 'ended')
     and not exists (select from "exposure_observation" o where o."specimenId" = s."id" and o."takenOut" and o."day" < d."day")
     and ${which}`;

export const readLooks = (execute: SqlExecutor, testId: number) =>
  execute<Look>(sql`
    select l."testId", l."specimenId", l."day"::text as "day", l."state", l."isToday"
      from (${looks(sql`t."id" = ${testId}`)}) l order by l."day", l."specimenId"`);

/** How many looks of each test were missed, and how many can still be entered. */
export const countLooks = (execute: SqlExecutor, testIds: readonly number[]) =>
  execute<{ testId: number; missed: number; due: number }>(sql`
    select l."testId", (count(*) filter (where l."state" = 'missed'))::int as "missed", (count(*) filter (where l."state" = 'due'))::int as "due"
      from (${looks(sql`t."id" = any(${[...testIds]}::int[])`)}) l group by l."testId"`);

export interface TestReminder {
  id: number;
  number: string;
  name: string;
  responsibleId: number;
  responsible: string;
  state: 'planned' | 'running';
  plannedStart: string | null;
  plannedHours: number;
  startedAt: Date | null;
  today: string;
  dueToday: number;
  overdue: number;
  /** The last reading that stands, where a figure of it is outside. */
  outside: string[];
  outsideAt: Date | null;
}
/** Open tests with what waits at each. */
export const readOpenTests = (execute: SqlExecutor) =>
  execute<TestReminder>(sql`
    select t."id", t."number", t."name", t."responsibleId", t."snapshot" ->> 'responsible' as "responsible", t."state", t."plannedStart"::text as "plannedStart",
           t."plannedHours", t."startedAt", (select (now() at time zone "timeZone")::date::text from "shop") as "today",
           coalesce(l."dueToday", 0) as "dueToday", coalesce(l."overdue", 0) as "overdue", coalesce(r."outside", '{}') as "outside", r."readAt" as "outsideAt"
      from "exposure_test" t
      left join (select d."testId", (count(*) filter (where d."isToday"))::int as "dueToday", (count(*) filter (where not d."isToday"))::int as "overdue"
                   from (${looks(sql`t."state" = 'running'`)}) d where d."state" = 'due' group by d."testId") l on l."testId" = t."id"
      left join lateral (
        select x."outside", x."readAt" from "exposure_reading" x
         where x."testId" = t."id" and not exists (select from "exposure_reading" n where n."correctsId" = x."id")
         order by x."readAt" desc, x."id" desc limit 1) r on r."outside" <> '{}'
     where t."state" in ('planned', 'running') order by t."id"`);
