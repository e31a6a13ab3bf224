import type { AgreedColour, ColourReading, JudgedReading, LotColour } from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { standsNotDone } from '../../production/travelers/index.ts';

export const instant = (column: Prisma.Sql) =>
  sql`to_char(${column} at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')`;

/** CIELAB of a row `r`, or null. */
export const labOf = sql`case when r."labL" is null then null
  else jsonb_build_object('L', r."labL", 'a', r."labA", 'b', r."labB") end`;

/** A row `r` that counts: no other row corrects it, and it was not withdrawn. */
export const stands = sql`not r."withdrawn" and not exists (select 1 from "colour_reading" n where n."correctsId" = r."id")`;

export interface LotFacts {
  id: number;
  number: string;
  status: string;
  partId: number;
  recipeRevisionId: number;
  /** Whether its traveler has a colour step at all. */
  hasColourStep: boolean;
  signedSteps: number;
  colourStep: { id: number; title: string; doneAt: string; person: string } | null;
  /** When the last step so far was signed. */
  lastSignedAt: string | null;
  /** When its rework began; null where nothing was sent round again. */
  reworkSince: string | null;
  /** The instant of the transaction, as a hold that it places has it. */
  now: Date;
}

/** A lot as its colour is concerned; locked where `lock`. */
export async function readLotFacts(
  execute: SqlExecutor,
  lotId: number,
  { lock }: { lock: boolean },
): Promise<LotFacts | null> {
  const [row] = await execute<LotFacts>(sql`
    select l."id", l."number", l."status", l."partId", l."recipeRevisionId",
           exists (select 1 from "traveler_step" s join "traveler" t on t."id" = s."travelerId"
                    where t."lotId" = l."id" and s."kind" = 'colour') as "hasColourStep",
           (select count(*)::int from "step_sign_off" s where s."lotId" = l."id" and not ${standsNotDone('s')}) as "signedSteps",
           (select jsonb_build_object('id', s."id", 'title', st."title", 'doneAt', ${instant(sql`s."doneAt"`)},
                     'person', s."snapshot" -> 'person')
              from "step_sign_off" s join "traveler_step" st on st."id" = s."stepId"
             where s."lotId" = l."id" and s."stepKind" = 'colour' and not ${standsNotDone('s')}
             order by s."doneAt" desc, s."id" desc limit 1) as "colourStep",
           (select ${instant(sql`max(s."doneAt")`)} from "step_sign_off" s where s."lotId" = l."id" and not ${standsNotDone('s')}) as "lastSignedAt",
           (select ${instant(sql`max(t."issuedAt")`)} from "traveler" t
             where t."lotId" = l."id" and t."kind" = 'rework') as "reworkSince", now() as "now"
      from "lot" l where l."id" = ${lotId} ${lock ? sql`for update of l` : Prisma.empty}`);
  return row ?? null;
}

export const readPictures = (execute: SqlExecutor, partId: number): Promise<LotColour['pictures']> =>
  execute(sql`
    select f."id" as "fileId", coalesce(nullif(p."caption", ''), f."name") as "caption"
      from "part_file" p join "file" f on f."id" = p."fileId"
     where p."partId" = ${partId} and f."mediaType" like 'image/%' order by p."id" limit 20`);

/** Every reading of a lot, newest first. */
export const readReadings = (execute: SqlExecutor, lotId: number) =>
  execute<z.input<typeof ColourReading>>(sql`
    select r."id", r."zone", r."place", r."spot", r."grade", ${labOf} as "lab", r."spectrum" is not null as "hasSpectrum",
           r."conditions", r."instrument", r."instrumentId", r."instrumentOverdue", r."expandedUncertainty", r."judged", r."verdict", r."standardExpired", r."fileName", r."note",
           case when r."agreed" is null then null else jsonb_build_object('code', r."agreed" -> 'code',
             'revision', r."agreed" -> 'revision', 'name', r."agreed" -> 'name',
             'unconfirmed', colour_unconfirmed(r."standardRevisionId", r."readAt")) end as "standard",
           r."snapshot" ->> 'readBy' as "readBy", r."snapshot" ->> 'secondBy' as "secondBy",
           ${instant(sql`r."readAt"`)} as "readAt", r."correctsId", r."reason", r."withdrawn",
           (select n."id" from "colour_reading" n where n."correctsId" = r."id") as "correctedById"
      from "colour_reading" r where r."lotId" = ${lotId} order by r."id" desc limit 2000`);

export interface NewRow {
  lotId: number;
  recipeRevisionId: number;
  colourSignOffId: number | null;
  zone: string;
  place: string;
  spot: ColourReading['spot'];
  grade: string;
  lab: { L: number; a: number; b: number } | null;
  spectrum: { wavelengthsNm: number[]; reflectance: number[] } | null;
  conditions: ColourReading['conditions'];
  instrument: string;
  instrumentId: number | null;
  instrumentOverdue: boolean;
  expandedUncertainty: number | null;
  agreed: AgreedColour | null;
  judged: JudgedReading | null;
  verdict: string | null;
  standardExpired: boolean;
  fileName: string;
  note: string;
  readById: number;
  secondById: number | null;
  correctsId: number | null;
  reason: string;
  withdrawn: boolean;
  readAt: Date;
}

const json = (value: object | null) => (value === null ? Prisma.DbNull : (value as Prisma.InputJsonObject));

export const addReading = (db: Queryable, { lab, ...row }: NewRow) =>
  db.prisma.colourReading.create({
    data: {
      ...row,
      labL: lab?.L ?? null,
      labA: lab?.a ?? null,
      labB: lab?.b ?? null,
      spot: json(row.spot),
      spectrum: json(row.spectrum),
      conditions: json(row.conditions),
      agreed: json(row.agreed),
      judged: json(row.judged),
      deltaE: row.judged?.deltaE ?? null,
      standardRevisionId: row.agreed?.revisionId ?? null,
    },
    select: { id: true },
  });

/** A reading with what its correction is judged by. */
export const readStored = (db: Queryable, id: number) =>
  db.prisma.colourReading.findUnique({ where: { id } });
export const isCorrected = async (db: Queryable, id: number) =>
  (await db.prisma.colourReading.count({ where: { correctsId: id } })) > 0;

/** The zones with a reading that counts: by a grade that decides, after an instant, after a sign-off where one is named. */
export async function readDecided(
  execute: SqlExecutor,
  { lotId, since, colourSignOffId }: { lotId: number; since: string | null; colourSignOffId?: number },
): Promise<string[]> {
  const rows = await execute<{ zone: string }>(sql`
    select distinct r."zone" from "colour_reading" r
     where r."lotId" = ${lotId} and r."verdict" is not null and ${stands}
       ${since === null ? Prisma.empty : sql`and r."readAt" > ${since}::timestamptz`}
       ${colourSignOffId === undefined ? Prisma.empty : sql`and r."colourSignOffId" = ${colourSignOffId}`}`);
  return rows.map(({ zone }) => zone);
}

export async function readRule(db: Queryable) {
  const { colourGuardFactor, version } = await db.prisma.shop.findUniqueOrThrow({ where: { id: 1 } });
  return { guardFactor: colourGuardFactor, version };
}
export const lockShop = (execute: SqlExecutor) =>
  execute(sql`select "id" from "shop" where "id" = 1 for update`);
export const setGuardFactor = (db: Queryable, colourGuardFactor: number) =>
  db.prisma.shop.update({ where: { id: 1 }, data: { colourGuardFactor, version: { increment: 1 } } });
