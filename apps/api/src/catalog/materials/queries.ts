import type { Evidence, BaseMetal, MaterialFacts, listMaterials } from '@huelot/contracts';
import type { z } from 'zod';
import { sql, Prisma, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing, keyset, whereArchived } from '../../db/lists.ts';

export interface MaterialRow {
  id: number;
  name: string;
  designation: string;
  condition: string;
  baseMetal: BaseMetal;
  densityKgPerM3: number;
  heatCapacityJPerKgK: number;
  source: string;
  evidence: Evidence;
  notes: string;
  partCount: number;
  archivedAt: Date | null;
  createdAt: Date;
  version: number;
}

const columns = sql`
  m."id", m."name", m."designation", m."condition", m."baseMetal", m."densityKgPerM3", m."heatCapacityJPerKgK",
  m."source", m."evidence", m."notes", m."archivedAt", m."createdAt", m."version",
  (select count(*) from "part" p where p."materialId" = m."id" and p."archivedAt" is null)::int as "partCount"`;

export async function readMaterial(execute: SqlExecutor, id: number): Promise<MaterialRow | null> {
  const [row] = await execute<MaterialRow>(sql`select ${columns} from "material" m where m."id" = ${id}`);
  return row ?? null;
}

/** Like {@link readMaterial}, held until the transaction ends. */
export async function lockMaterial(execute: SqlExecutor, id: number): Promise<MaterialRow | null> {
  await execute(sql`select "id" from "material" where "id" = ${id} for update`);
  return readMaterial(execute, id);
}

const sorts = {
  name: { column: sql`m."name"`, kind: 'string' },
  baseMetal: { column: sql`m."baseMetal"`, kind: 'string' },
  density: { column: sql`m."densityKgPerM3"`, kind: 'number' },
} as const;

/** Materials in the order asked for, one more than the page holds. */
export function readMaterials(
  execute: SqlExecutor,
  {
    sort,
    after,
    search,
    baseMetal,
    archived,
    limit,
  }: z.output<typeof listMaterials.query> & { limit: number },
): Promise<(MaterialRow & { sortValue: string | number })[]> {
  const at = keyset({ sort: sort ?? 'name', columns: sorts, id: sql`m."id"`, after });
  const pattern = search ? containing(search) : null;
  return execute(sql`
    select ${columns}, ${at.value} as "sortValue"
      from "material" m
     where (${pattern}::text is null or (m."name" || ' ' || m."designation" || ' ' || m."condition") ilike ${pattern})
       ${baseMetal === undefined ? Prisma.empty : sql`and m."baseMetal" = ${baseMetal}`}
       ${whereArchived(sql`m."archivedAt"`, archived)}
       ${at.start}
     order by ${at.order}
     limit ${limit + 1}`);
}

export const addMaterial = (db: Queryable, facts: MaterialFacts) =>
  db.prisma.material.create({ data: facts, select: { id: true } });
export const changeMaterial = (
  db: Queryable,
  id: number,
  data: MaterialFacts | { archivedAt: Date | null },
) => db.prisma.material.update({ where: { id }, data: { ...data, version: { increment: 1 } } });

/** Adds those that are not there by name and condition, and says which. */
export const addMissing = (execute: SqlExecutor, materials: readonly MaterialFacts[]) =>
  execute<{ id: number; name: string }>(sql`
    insert into "material" ("name", "designation", "condition", "baseMetal", "densityKgPerM3", "heatCapacityJPerKgK",
                            "source", "evidence", "notes")
    select "name", "designation", "condition", "baseMetal", "densityKgPerM3", "heatCapacityJPerKgK", "source", "evidence", "notes"
      from jsonb_to_recordset(${JSON.stringify(materials)}::jsonb) as given (
             "name" text, "designation" text, "condition" text, "baseMetal" text, "densityKgPerM3" float8,
             "heatCapacityJPerKgK" float8, "source" text, "evidence" text, "notes" text)
    on conflict ("name", "condition") do nothing
    returning "id", "name"`);
