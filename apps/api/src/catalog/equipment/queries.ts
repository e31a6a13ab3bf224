import type {
  Archived,
  BaseMetal,
  NewPowerSupply,
  NewRack,
  NewTank,
  TankContents,
  TankKind,
} from '@huelot/contracts';
import type { z } from 'zod';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

interface Asked {
  search?: string | undefined;
  archived?: z.output<typeof Archived> | undefined;
  limit: number;
}
/** Prisma puts the text into a pattern as it is, so that what is special there must be taken out of it before. */
const words = (search: string) => ({
  contains: containing(search).slice(1, -1),
  mode: 'insensitive' as const,
});

/** Equipment on or off the lists, by the code painted on it or its name. */
const listed = ({ search, archived = 'no' }: Asked) => ({
  ...(archived === 'all' ? {} : { archivedAt: archived === 'yes' ? { not: null } : null }),
  ...(search ? { OR: [{ code: words(search) }, { name: words(search) }] } : {}),
});
const ref = { select: { id: true, code: true, name: true } };
const stamp = (archived: boolean, was: Date | null) => ({
  archivedAt: archived ? (was ?? new Date()) : null,
  version: { increment: 1 },
});

/** Keeps other writers of one piece of equipment waiting until this transaction ends. */
export const lockEquipment = (
  execute: SqlExecutor,
  { table, id }: { table: 'tank' | 'power_supply' | 'rack'; id: number },
) => execute(sql`select "id" from ${Prisma.raw(`"${table}"`)} where "id" = ${id} for update`);

// Tanks

const tankParts = {
  baths: { where: { dumpedAt: null } },
  supplies: {
    where: { supply: { archivedAt: null } },
    select: { supply: ref },
    orderBy: { supply: { code: 'asc' } },
  },
} satisfies Prisma.TankInclude;
export type TankRow = Prisma.TankGetPayload<{ include: typeof tankParts }>;

export const readTank = (db: Queryable, id: number) =>
  db.prisma.tank.findUnique({ where: { id }, include: tankParts });
export const readTankByCode = (db: Queryable, code: string) => db.prisma.tank.findUnique({ where: { code } });

/** Tanks in the order of the line, one more than the page holds. */
export const readTanks = (
  db: Queryable,
  filter: Asked & {
    contents?: TankContents | undefined;
    kind?: TankKind | undefined;
    after: { lineOrder: number; code: string } | null;
  },
) =>
  db.prisma.tank.findMany({
    where: {
      AND: [
        listed(filter),
        filter.contents === undefined ? {} : { contents: filter.contents },
        filter.kind === undefined ? {} : { kind: filter.kind },
        filter.after === null
          ? {}
          : {
              OR: [
                { lineOrder: { gt: filter.after.lineOrder } },
                { lineOrder: filter.after.lineOrder, code: { gt: filter.after.code } },
              ],
            },
      ],
    },
    include: tankParts,
    orderBy: [{ lineOrder: 'asc' }, { code: 'asc' }],
    take: filter.limit + 1,
  });
export const insertTank = (db: Queryable, data: NewTank) =>
  db.prisma.tank.create({ data, include: tankParts });
export const updateTank = (db: Queryable, row: TankRow, input: NewTank & { archived: boolean }) => {
  const { archived, ...data } = input;
  return db.prisma.tank.update({
    where: { id: row.id },
    data: { ...data, ...stamp(archived, row.archivedAt) },
    include: tankParts,
  });
};

/** Numbers of lots under way that are assigned to a tank, a supply or a rack. */
export async function lotsUnderWay(
  execute: SqlExecutor,
  { tankId, supplyId, rackId }: { tankId?: number; supplyId?: number; rackId?: number },
): Promise<string[]> {
  const assigned =
    tankId !== undefined
      ? sql`"tanks" @> ${JSON.stringify([{ tankId }])}::jsonb`
      : supplyId !== undefined
        ? sql`"supplyId" = ${supplyId}`
        : sql`"rackId" = ${rackId ?? null}`;
  const rows = await execute<{ number: string }>(sql`
    select "number" from "lot" where "status" in ('released', 'running') and ${assigned} order by "id" limit 4`);
  return rows.map(({ number }) => number);
}

// Power supplies

const supplyParts = {
  tanks: { select: { tank: ref }, orderBy: { tank: { lineOrder: 'asc' } } },
} satisfies Prisma.PowerSupplyInclude;
export type SupplyRow = Prisma.PowerSupplyGetPayload<{ include: typeof supplyParts }>;

export const readSupply = (db: Queryable, id: number) =>
  db.prisma.powerSupply.findUnique({ where: { id }, include: supplyParts });
export const readSupplyByCode = (db: Queryable, code: string) =>
  db.prisma.powerSupply.findUnique({ where: { code } });
export const readSupplies = (db: Queryable, filter: Asked & { after: string | null }) =>
  db.prisma.powerSupply.findMany({
    where: { AND: [listed(filter), filter.after === null ? {} : { code: { gt: filter.after } }] },
    include: supplyParts,
    orderBy: { code: 'asc' },
    take: filter.limit + 1,
  });
export const readTankKinds = (db: Queryable, ids: readonly number[]) =>
  db.prisma.tank.findMany({
    where: { id: { in: [...ids] } },
    select: { id: true, code: true, kind: true, archivedAt: true },
  });
export const addSupply = (db: Queryable, { tankIds, ...data }: NewPowerSupply) =>
  db.prisma.powerSupply.create({
    data: { ...data, tanks: { create: tankIds.map((tankId) => ({ tankId })) } },
    include: supplyParts,
  });
export const changeSupply = (
  db: Queryable,
  row: SupplyRow,
  { tankIds, archived, ...data }: NewPowerSupply & { archived: boolean },
) =>
  db.prisma.powerSupply.update({
    where: { id: row.id },
    data: {
      ...data,
      ...stamp(archived, row.archivedAt),
      tanks: { deleteMany: {}, create: tankIds.map((tankId) => ({ tankId })) },
    },
    include: supplyParts,
  });

// Racks

export type RackRow = Prisma.RackGetPayload<object>;

export const readRack = (db: Queryable, id: number) => db.prisma.rack.findUnique({ where: { id } });
export const readRackByCode = (db: Queryable, code: string) => db.prisma.rack.findUnique({ where: { code } });
export const readRacks = (
  db: Queryable,
  filter: Asked & { baseMetal?: BaseMetal | undefined; after: string | null },
) =>
  db.prisma.rack.findMany({
    where: {
      AND: [
        listed(filter),
        filter.baseMetal === undefined ? {} : { baseMetal: filter.baseMetal },
        filter.after === null ? {} : { code: { gt: filter.after } },
      ],
    },
    orderBy: { code: 'asc' },
    take: filter.limit + 1,
  });
export const addRack = (db: Queryable, data: NewRack) => db.prisma.rack.create({ data });
export const changeRack = (
  db: Queryable,
  row: RackRow,
  { archived, ...data }: NewRack & { archived: boolean },
) =>
  db.prisma.rack.update({
    where: { id: row.id },
    data: { ...data, ...stamp(archived, row.archivedAt) },
  });
