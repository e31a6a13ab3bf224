import type { Bath, TankContents, Waste, WasteCategory } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type Run } from '../../db/client.ts';

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
  select b."id", b."number", b."tankId", t."code" as "tankCode", b."contents", b."madeUpAt", m."displayName" as "madeUpBy",
         b."dumpedAt", d."displayName" as "dumpedBy", b."dumpReason",
         b."wasteVolumeL", b."wasteCategory", b."wasteDestination", b."wasteDocument", b."notes", b."version"
    from "bath" b join "tank" t on t."id" = b."tankId"
    join "person" m on m."id" = b."madeUpById" left join "person" d on d."id" = b."dumpedById"`;

export const readBath = async (run: Run, id: number): Promise<BathRow | null> =>
  (await run<BathRow>(sql`${baths} where b."id" = ${id}`))[0] ?? null;
/** The fills of a tank, newest first, one more than the page holds. */
export const readBaths = (run: Run, asked: { tankId: number; before: number | null; limit: number }) =>
  run<BathRow>(sql`
    ${baths} where b."tankId" = ${asked.tankId}
      ${asked.before === null ? Prisma.empty : sql`and b."id" < ${asked.before}`}
    order by b."id" desc limit ${asked.limit + 1}`);
/** Keeps other writers of a bath waiting until this transaction ends. */
export const lockBath = (run: Run, id: number) =>
  run(sql`select 1 from "bath" where "id" = ${id} for update`);
/** Notes that something happened to a bath, so that whoever planned on it before must look again. */
export const touchBath = async (run: Run, id: number): Promise<number> => {
  const [row] = await run<{ version: number }>(
    sql`update "bath" set "version" = "version" + 1 where "id" = ${id} and "dumpedAt" is null returning "version"`,
  );
  return row?.version ?? 0;
};
export const addBath = (
  db: Queryable,
  of: { number: string; tankId: number; contents: TankContents; madeUpById: number; notes: string },
) => db.prisma.bath.create({ data: { ...of, madeUpAt: new Date() } });
export const closeBath = (
  db: Queryable,
  of: { id: number; dumpedById: number; dumpReason: string; waste: Waste | null },
) =>
  db.prisma.bath.update({
    where: { id: of.id },
    data: {
      dumpedById: of.dumpedById,
      dumpReason: of.dumpReason,
      dumpedAt: new Date(),
      wasteVolumeL: of.waste?.volumeL ?? null,
      wasteCategory: of.waste?.category ?? null,
      wasteDestination: of.waste?.destination ?? null,
      wasteDocument: of.waste?.document ?? null,
      version: { increment: 1 },
    },
  });
/** What waited in a bath that is dumped is over. */
export const endWhatWaits = async (run: Run, of: { bathId: number; personId: number }): Promise<void> => {
  await run(sql`
    update "addition" set "state" = 'withdrawn', "withdrawnById" = ${of.personId}, "withdrawReason" = 'the bath was dumped'
     where "bathId" = ${of.bathId} and "state" = 'planned'`);
  await run(sql`
    update "bath_request" set "closedAt" = now(), "closedById" = ${of.personId}, "closeReason" = 'the bath was dumped'
     where "bathId" = ${of.bathId} and "closedAt" is null`);
  await run(sql`
    update "bath_hold" set "releasedAt" = greatest(now(), "fromAt"), "releasedById" = ${of.personId}, "releaseNote" = 'the bath was dumped'
     where "bathId" = ${of.bathId} and "releasedAt" is null`);
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
