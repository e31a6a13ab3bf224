import type { Chemical, ChemicalForm, ChemicalHazard, NewChemical, Solute } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing, whereArchived } from '../../db/lists.ts';

export interface ChemicalRow {
  id: number;
  code: string;
  name: string;
  formula: string;
  solute: Solute | null;
  form: ChemicalForm;
  assayMassFraction: number;
  impurityMassFraction: number;
  densityKgPerM3: number | null;
  hazards: ChemicalHazard[];
  supplier: string;
  reorderPointKg: number | null;
  pricePerKg: string | null;
  sdsFileId: number | null;
  sdsFileName: string | null;
  balanceKg: number;
  openLots: number;
  notes: string;
  archivedAt: Date | null;
  createdAt: Date;
  version: number;
}

const chemicals = sql`
  select * from (
    select c."id", c."code", c."name", c."formula", c."solute", c."form", c."assayMassFraction", c."impurityMassFraction",
           c."densityKgPerM3", c."hazards", c."supplier", c."reorderPointKg", c."pricePerKg"::text as "pricePerKg",
           c."sdsFileId", f."name" as "sdsFileName", c."notes", c."archivedAt", c."createdAt", c."version",
           s."balanceKg", s."openLots"
      from "chemical" c
      left join "file" f on f."id" = c."sdsFileId"
      cross join lateral (
        select coalesce(sum(m."balanceKg"), 0)::float8 as "balanceKg", count(*)::int as "openLots"
          from "chemical_lot" l
          cross join lateral (
            select "balanceKg" from "stock_movement" where "lotId" = l."id" order by "id" desc limit 1) m
         where l."chemicalId" = c."id" and l."status" = 'open') s) c`;

interface Asked {
  search?: string | undefined;
  archived?: 'no' | 'yes' | 'all' | undefined;
  solute?: Solute | undefined;
  low?: 'yes' | undefined;
  after: string | null;
  limit: number;
}

/** Chemicals by code, one more than the page holds. */
export const readChemicals = (execute: SqlExecutor, { search, archived, solute, low, after, limit }: Asked) =>
  execute<ChemicalRow>(sql`
    ${chemicals} where true ${whereArchived(sql`c."archivedAt"`, archived)}
      ${search ? sql`and (c."code" || ' ' || c."name" || ' ' || c."formula") ilike ${containing(search)}` : Prisma.empty}
      ${solute === undefined ? Prisma.empty : sql`and c."solute" = ${solute}`}
      ${low === undefined ? Prisma.empty : sql`and c."balanceKg" < c."reorderPointKg"`}
      ${after === null ? Prisma.empty : sql`and c."code" > ${after}`}
     order by c."code" limit ${limit + 1}`);
export const readChemical = async (execute: SqlExecutor, id: number): Promise<ChemicalRow | null> =>
  (await execute<ChemicalRow>(sql`${chemicals} where c."id" = ${id}`))[0] ?? null;
export const readChemicalByCode = (db: Queryable, code: string) =>
  db.prisma.chemical.findUnique({ where: { code }, select: { id: true } });

type Stored = NewChemical & { pricePerKg: string | null };
export const addChemical = (db: Queryable, data: Stored) => db.prisma.chemical.create({ data });
export const changeChemical = (
  db: Queryable,
  { id, input, archivedAt }: { id: number; input: Stored; archivedAt: Date | null },
) => db.prisma.chemical.update({ where: { id }, data: { ...input, archivedAt, version: { increment: 1 } } });

export const lockRow = (
  execute: SqlExecutor,
  { table, id }: { table: 'chemical' | 'chemical_lot'; id: number },
) => execute(sql`select 1 from ${Prisma.raw(`"${table}"`)} where "id" = ${id} for update`);

/** How a page shows a chemical. */
export const toChemical = (row: ChemicalRow): Chemical => ({
  ...row,
  belowReorderPoint: row.reorderPointKg !== null && row.balanceKg < row.reorderPointKg,
  archivedAt: row.archivedAt?.toISOString() ?? null,
  createdAt: row.createdAt.toISOString(),
});
