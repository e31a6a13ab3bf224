import type { CharacteristicKind, InspectionRecord, SeverityName } from '@huelot/contracts';
import type { InspectionLevel, Severity } from '@huelot/calc';
import { sql, type Queryable, type SqlExecutor, type Tx } from '../../db/client.ts';

/** Lots of one part number of a customer share their memory, whatever its drawing revision. */
export interface PartKey {
  customerId: number;
  partNumber: string;
}

export interface CharacteristicRow {
  id: number;
  name: string;
  kind: CharacteristicKind;
  method: string;
  instrument: string;
  acceptance: string;
  level: InspectionLevel | null;
  aql: string | null;
  limitNumber: number | null;
}

export interface PlanRow {
  id: number;
  revision: number;
  note: string;
  setBy: string;
  setAt: Date;
  characteristics: CharacteristicRow[];
}

export const readPart = async (execute: SqlExecutor, partId: number) =>
  (
    await execute<PartKey & { revision: string }>(sql`
      select "customerId", "number" as "partNumber", "revision" from "part" where "id" = ${partId}`)
  )[0] ?? null;

/** One person at a time writes what the memory of a part number rests on. */
export const lockPart = ({ execute }: Tx, { customerId, partNumber }: PartKey) =>
  execute(sql`
    select "id" from "part" where "customerId" = ${customerId} and "number" = ${partNumber} order by "id" for update`);

/** The plan in force: the last that was written for the part, or for the nearest drawing revision before it. */
export async function readPlan(execute: SqlExecutor, partId: number): Promise<PlanRow | null> {
  const [row] = await execute<PlanRow>(sql`
    with recursive "line" as (
      select ${partId}::int as "partId", 0 as "back"
      union all
      select b."id", l."back" + 1 from "line" l join "part" b on b."successorId" = l."partId")
    select p."id", p."revision", p."note", p."snapshot" ->> 'setBy' as "setBy", p."setAt",
           coalesce((
             select json_agg(json_build_object('id', c."id", 'name', c."name", 'kind', c."kind", 'method', c."method",
                      'instrument', c."instrument", 'acceptance', c."acceptance", 'level', c."level", 'aql', c."aql",
                      'limitNumber', c."limitNumber") order by c."position")
               from "inspection_characteristic" c where c."planId" = p."id"), '[]') as "characteristics"
      from "line" l join "inspection_plan" p on p."partId" = l."partId"
     order by l."back", p."revision" desc limit 1`);
  return row ?? null;
}

export const addPlan = (
  { prisma }: Queryable,
  data: {
    partId: number;
    revision: number;
    note: string;
    setById: number;
    characteristics: Omit<CharacteristicRow, 'id'>[];
  },
) =>
  prisma.inspectionPlan.create({
    data: {
      ...data,
      characteristics: {
        create: data.characteristics.map((one, index) => ({ ...one, position: index + 1 })),
      },
    },
  });

export interface MoveRow {
  name: string;
  was: SeverityName;
  severity: SeverityName;
  because: string;
  lotId: number | null;
  lotNumber: string | null;
  by: string;
  at: Date;
}

/** How severity moved, oldest first. */
export const readMoves = (execute: SqlExecutor, { customerId, partNumber }: PartKey) =>
  execute<MoveRow>(sql`
    select m."name", m."was", m."severity", m."because", l."id" as "lotId", l."number" as "lotNumber",
           m."snapshot" ->> 'by' as "by", m."at"
      from "inspection_severity" m
      left join "inspection" i on i."id" = m."inspectionId" left join "lot" l on l."id" = i."lotId"
     where m."customerId" = ${customerId} and m."partNumber" = ${partNumber} order by m."id"`);

export const addMove = (
  { prisma }: Queryable,
  data: PartKey & {
    name: string;
    was: SeverityName;
    severity: SeverityName;
    because: string;
    inspectionId: number | null;
    byId: number;
  },
) => prisma.inspectionSeverity.create({ data });

/** The records of a lot, oldest first. */
export const readRecords = (execute: SqlExecutor, lotId: number) =>
  execute<Omit<InspectionRecord, 'inspectedAt'> & { inspectedAt: Date; travelerId: number }>(sql`
    select "id", "travelerId", "name", "lotSize", "severity", "letter", "planTable", "sampleSize", "ac", "re", "inspected",
           "found", "verdict", "isScreening", "snapshot" ->> 'instrument' as "instrument", "instrumentOverdue", "notes",
           "snapshot" ->> 'inspectedBy' as "inspectedBy", "inspectedAt"
      from "inspection" where "lotId" = ${lotId} order by "id"`);

/** Samples of a characteristic since inspection was last taken up again, oldest first: what the switching rules look at. */
export const readHistory = (
  execute: SqlExecutor,
  { customerId, partNumber, name }: PartKey & { name: string },
) =>
  execute<{
    severity: Severity;
    verdict: string;
    found: number;
    ac: number;
    re: number;
    resubmitted: boolean;
  }>(sql`
    select i."severity", i."verdict", i."found", i."ac", i."re",
           exists (select from "inspection" e where e."lotId" = i."lotId" and lower(e."name") = lower(i."name") and e."id" < i."id"
                      and e."severity" is not null) as "resubmitted"
      from "inspection" i
     where i."customerId" = ${customerId} and i."partNumber" = ${partNumber} and lower(i."name") = lower(${name})
       and i."severity" is not null
       and i."inspectedAt" > coalesce((
             select max(m."at") from "inspection_severity" m
              where m."customerId" = ${customerId} and m."partNumber" = ${partNumber} and lower(m."name") = lower(${name})
                and m."was" = 'stopped'), '-infinity')
     order by i."id"`);

export const addRecord = (
  { prisma }: Queryable,
  data: PartKey &
    Pick<
      InspectionRecord,
      | 'name'
      | 'lotSize'
      | 'severity'
      | 'letter'
      | 'planTable'
      | 'sampleSize'
      | 'ac'
      | 're'
      | 'inspected'
      | 'found'
    > &
    Pick<InspectionRecord, 'verdict' | 'isScreening' | 'instrumentOverdue' | 'notes'> & {
      lotId: number;
      travelerId: number;
      characteristicId: number;
      instrumentId: number | null;
      inspectedById: number;
    },
) => prisma.inspection.create({ data });
