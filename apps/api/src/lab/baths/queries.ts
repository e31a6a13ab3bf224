import type { Bath, TankContents, Waste, WasteCategory } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';

export interface BathRow {
  id: number;
  number: string;
  tankId: number;
  tankCode: string;
  contents: TankContents;
  madeUpAt: Date;
  madeUpBy: string;
  dumpedAt: Date | null;
  dumpedBy: string | null;
  dumpReason: string | null;
  wasteVolumeL: number | null;
  wasteCategory: WasteCategory | null;
  wasteDestination: string | null;
  wasteDocument: string | null;
  notes: string;
  version: number;
}
const baths = sql`
  select b."id", b."number", b."tankId", coalesce(b."snapshot" -> 'tank' ->> 'code', t."code") as "tankCode", b."contents",
         b."madeUpAt", b."snapshot" ->> 'madeUpBy' as "madeUpBy", b."dumpedAt", b."snapshot" ->> 'dumpedBy' as "dumpedBy", b."dumpReason",
         b."wasteVolumeL", b."wasteCategory", b."wasteDestination", b."wasteDocument", b."notes", b."version"
    from "bath" b join "tank" t on t."id" = b."tankId"`;

export const readBath = async (execute: SqlExecutor, id: number): Promise<BathRow | null> =>
  (await execute<BathRow>(sql`${baths} where b."id" = ${id}`))[0] ?? null;
/** The baths of a tank, newest first, one more than the page holds. */
export const readBaths = (
  execute: SqlExecutor,
  { tankId, before, limit }: { tankId: number; before: number | null; limit: number },
) =>
  execute<BathRow>(sql`
    ${baths} where b."tankId" = ${tankId}
      ${before === null ? Prisma.empty : sql`and b."id" < ${before}`}
    order by b."id" desc limit ${limit + 1}`);
/** Keeps other writers of a bath waiting until this transaction ends. */
export const lockBath = (execute: SqlExecutor, id: number) =>
  execute(sql`select 1 from "bath" where "id" = ${id} for update`);
/** Notes that something happened to a bath, so that whoever planned on it before must look again. */
export const bumpBathVersion = async (execute: SqlExecutor, id: number): Promise<number> => {
  const [row] = await execute<{ version: number }>(
    sql`update "bath" set "version" = "version" + 1 where "id" = ${id} and "dumpedAt" is null returning "version"`,
  );
  return row?.version ?? 0;
};
export const addBath = (
  db: Queryable,
  data: {
    number: string;
    tankId: number;
    contents: TankContents;
    madeUpAt: Date;
    madeUpById: number;
    notes: string;
  },
) => db.prisma.bath.create({ data });
/** When the last bath of a tank was dumped; null where none was. */
export async function readLastDump(
  execute: SqlExecutor,
  tankId: number,
): Promise<{ number: string; dumpedAt: Date } | null> {
  const [row] = await execute<{ number: string; dumpedAt: Date }>(sql`
    select "number", "dumpedAt" from "bath" where "tankId" = ${tankId} and "dumpedAt" is not null order by "dumpedAt" desc limit 1`);
  return row ?? null;
}
export const closeBath = (
  db: Queryable,
  {
    id,
    dumpedById,
    dumpReason,
    dumpedAt,
    waste,
  }: { id: number; dumpedById: number; dumpReason: string; waste: Waste | null; dumpedAt: Date },
) =>
  db.prisma.bath.update({
    where: { id },
    data: {
      dumpedById,
      dumpReason,
      dumpedAt,
      wasteVolumeL: waste?.volumeL ?? null,
      wasteCategory: waste?.category ?? null,
      wasteDestination: waste?.destination ?? null,
      wasteDocument: waste?.document ?? null,
      version: { increment: 1 },
    },
  });
/** The newest of what is recorded of a fill, in words; null where there is only its make-up. */
export async function readLastRecorded(
  execute: SqlExecutor,
  bathId: number,
): Promise<{ at: Date; what: string } | null> {
  const [row] = await execute<{ at: Date; what: string }>(sql`
    select "at", "what" from (
      select "sampledAt" as "at", 'the sample of ' || "number" as "what" from "analysis" where "bathId" = ${bathId}
      union all
      select "finishedAt", 'the end of ' || "number" from "addition" where "bathId" = ${bathId} and "finishedAt" is not null
      union all
      select "doneAt", 'a step signed in it' from "step_sign_off" where "bathId" = ${bathId}) x
     order by "at" desc limit 1`);
  return row ?? null;
}
/** Litres that a tank holds when it is full to the brim. */
export async function readBrim(execute: SqlExecutor, tankId: number): Promise<number> {
  const [row] = await execute<{ brimL: number }>(sql`
    select "insideLengthMm"::float8 * "insideWidthMm" * "insideDepthMm" / 1e6 as "brimL" from "tank" where "id" = ${tankId}`);
  return row?.brimL ?? Infinity;
}
/** What waited in a bath that is dumped is over. */
export const closeOpenWork = async (
  execute: SqlExecutor,
  { personId, bathId }: { bathId: number; personId: number },
): Promise<void> => {
  await execute(sql`
    update "addition" set "state" = 'withdrawn', "withdrawnById" = ${personId}, "withdrawReason" = 'the bath was dumped'
     where "bathId" = ${bathId} and "state" = 'planned'`);
  await execute(sql`
    update "bath_request" set "closedAt" = now(), "closedById" = ${personId}, "closeReason" = 'the bath was dumped'
     where "bathId" = ${bathId} and "closedAt" is null`);
  await execute(sql`
    update "bath_hold" set "releasedAt" = greatest(now(), "fromAt"), "releasedById" = ${personId}, "releaseNote" = 'the bath was dumped'
     where "bathId" = ${bathId} and "releasedAt" is null`);
};

/** How a page shows a fill. */
export const toBath = ({
  wasteVolumeL,
  wasteCategory,
  wasteDestination,
  wasteDocument,
  ...row
}: BathRow): Bath => ({
  ...row,
  waste:
    wasteVolumeL === null || wasteCategory === null
      ? null
      : {
          volumeL: wasteVolumeL,
          category: wasteCategory,
          destination: wasteDestination ?? '',
          document: wasteDocument ?? '',
        },
  madeUpAt: row.madeUpAt.toISOString(),
  dumpedAt: row.dumpedAt?.toISOString() ?? null,
});
