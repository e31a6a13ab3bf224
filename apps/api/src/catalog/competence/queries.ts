import {
  type Activity,
  type Competence,
  COMPETENCE_ENDS_SOON_DAYS,
  type Family,
  permissions,
  type Role,
} from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export interface CompetenceRow extends Omit<Competence, 'file' | 'grantedAt' | 'withdrawn'> {
  fileId: number | null;
  grantedAt: Date;
  withdrawnBy: string | null;
  withdrawnAt: Date | null;
  withdrawReason: string;
}
const today = sql`(now() at time zone (select "timeZone" from "shop"))::date`;
const competence = sql`
  select c."id", c."personId", c."activity", c."family", c."fromOn"::text as "fromOn", c."untilOn"::text as "untilOn", c."evidence", c."fileId",
         c."snapshot" ->> 'grantedBy' as "grantedBy", c."grantedAt", c."snapshot" ->> 'withdrawnBy' as "withdrawnBy", c."withdrawnAt", c."withdrawReason",
         case when c."withdrawnAt" is not null then 'withdrawn' when c."untilOn" < ${today} then 'expired'
              when c."fromOn" > ${today} then 'later'
              when c."untilOn" <= ${today} + ${COMPETENCE_ENDS_SOON_DAYS}::int then 'ends-soon' else 'valid' end as "state"
    from "competence" c`;

export const readAll = (execute: SqlExecutor, personId: number | undefined) =>
  execute<CompetenceRow>(sql`
    ${competence} where true ${personId === undefined ? Prisma.empty : sql`and c."personId" = ${personId}`}
     order by c."id" desc limit 5000`);
export const readOne = async (execute: SqlExecutor, id: number): Promise<CompetenceRow | null> =>
  (await execute<CompetenceRow>(sql`${competence} where c."id" = ${id}`))[0] ?? null;
export const lockOne = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "competence" where "id" = ${id} for update`);

export const readPeople = (execute: SqlExecutor, personId?: number) =>
  execute<{ id: number; name: string; roles: Role[] }>(sql`
    select "id", "displayName" as "name", "roles" from "person"
     where "active" ${personId === undefined ? Prisma.empty : sql`and "id" = ${personId}`} order by "displayName"`);
/** Whose word counts, other than one person’s. */
export const readJudges = (execute: SqlExecutor, otherThan = 0) =>
  execute<{ id: number; displayName: string }>(sql`
    select "id", "displayName" from "person"
     where "active" and "passwordHash" is not null and "roles" && ${[...permissions['competence.write']]}::text[] and "id" <> ${otherThan}
     order by "displayName"`);

export const readRule = async (execute: SqlExecutor) =>
  (
    await execute<{ on: boolean; version: number }>(
      sql`select "competenceRule" as "on", "version" from "shop" where "id" = 1`,
    )
  )[0] ?? { on: false, version: 1 };
export const lockRule = (execute: SqlExecutor) =>
  execute(sql`select 1 from "shop" where "id" = 1 for update`);
export const writeRule = (execute: SqlExecutor, on: boolean) =>
  execute(sql`update "shop" set "competenceRule" = ${on}, "version" = "version" + 1 where "id" = 1`);

export const addCompetence = (
  db: Queryable,
  {
    fromOn,
    untilOn,
    ...data
  }: {
    personId: number;
    activity: Activity;
    family: Family | null;
    fromOn: string;
    untilOn: string | null;
    evidence: string;
    fileId: number | null;
    grantedById: number;
  },
) =>
  db.prisma.competence.create({
    data: { ...data, fromOn: new Date(fromOn), untilOn: untilOn === null ? null : new Date(untilOn) },
    select: { id: true },
  });
export const withdraw = (db: Queryable, id: number, { byId, reason }: { byId: number; reason: string }) =>
  db.prisma.competence.update({
    where: { id },
    data: { withdrawnById: byId, withdrawnAt: new Date(), withdrawReason: reason },
    select: { id: true },
  });

/** Whether somebody was fit for an activity in a family at a moment; of no family in particular, any will do. */
export const isCompetent = async (
  execute: SqlExecutor,
  {
    personId,
    activity,
    family,
    at,
  }: { personId: number; activity: Activity; family: Family | null; at: Date },
): Promise<boolean> =>
  (
    await execute<{ found: boolean }>(sql`
      select exists (select from "competence" c cross join (
                select (${at}::timestamptz at time zone (select "timeZone" from "shop"))::date as "day") d
               where c."personId" = ${personId} and c."activity" = ${activity}
                 and (c."family" is null or ${family}::text is null or c."family" = ${family}::text)
                 and c."fromOn" <= d."day" and (c."untilOn" is null or c."untilOn" >= d."day")
                 and (c."withdrawnAt" is null or c."withdrawnAt" > ${at}::timestamptz)) as "found"`)
  )[0]?.found ?? false;
