import type { NewStep, RecipeItem, RecipeStatus, RevisionItem, Step } from '@huelot/contracts';
import { Prisma, sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { containing } from '../../db/lists.ts';

type Timed<T, K extends keyof T> = Omit<T, K> & { [F in K]: null extends T[F] ? Date | null : Date };
export type RevisionRow = Timed<RevisionItem, 'createdAt' | 'approvedAt' | 'supersededAt'> & {
  recipeId: number;
  /** What the recipe was called when the revision was approved; null before. */
  approvedHead: Pick<RecipeRow, 'name' | 'colour' | 'notes'> | null;
};
export type RecipeRow = Prisma.RecipeGetPayload<object>;
export type Head = Pick<RecipeRow, 'name' | 'family' | 'baseMetals' | 'colour' | 'notes'>;

/** Somebody by the name that a revision keeps of them. */
const person = (id: Prisma.Sql, name: Prisma.Sql) =>
  sql`jsonb_build_object('id', ${id}, 'displayName', ${name})`;
const revisions = sql`
  select r."id", r."recipeId", r."revision", r."status", r."changeNote", r."createdAt", r."approvedAt", r."selfApproved", r."supersededAt",
         r."version", ${person(sql`r."authorId"`, sql`r."snapshot" -> 'author'`)} as "author",
         case when r."approvedById" is not null then ${person(sql`r."approvedById"`, sql`r."snapshot" -> 'approvedBy'`)} end as "approvedBy",
         (select coalesce(jsonb_agg(${person(sql`w."id"`, sql`r."snapshot" -> 'writers' -> w."id"::text`)} order by w."place"), '[]'::jsonb)
            from unnest(r."writerIds") with ordinality w ("id", "place")) as "writers",
         (select count(*)::int from "recipe_step" s where s."revisionId" = r."id") as "stepCount",
         r."snapshot" -> 'recipe' as "approvedHead"
    from "recipe_revision" r`;

export const readHead = (db: Queryable, id: number) => db.prisma.recipe.findUnique({ where: { id } });
/** Keeps other writers of a recipe and its revisions waiting until this transaction ends. */
export const lockRecipe = (execute: SqlExecutor, id: number) =>
  execute(sql`select "id" from "recipe" where "id" = ${id} for update`);
export const addHead = (db: Queryable, data: Head & { number: string }) => db.prisma.recipe.create({ data });
export const changeHead = (db: Queryable, id: number, data: Head & { archivedAt: Date | null }) =>
  db.prisma.recipe.update({ where: { id }, data: { ...data, version: { increment: 1 } } });

/** The revisions of a recipe, newest first. */
export const readRevisions = (execute: SqlExecutor, recipeId: number) =>
  execute<RevisionRow>(sql`${revisions} where r."recipeId" = ${recipeId} order by r."revision" desc`);
export const readRevision = async (execute: SqlExecutor, id: number): Promise<RevisionRow | null> =>
  (await execute<RevisionRow>(sql`${revisions} where r."id" = ${id}`))[0] ?? null;
/** The approved revision of every recipe in use. */
export const readApproved = (execute: SqlExecutor) =>
  execute<RevisionRow>(sql`
    ${revisions} join "recipe" h on h."id" = r."recipeId"
     where r."status" = 'approved' and h."archivedAt" is null order by h."number"`);
export const readHeads = (db: Queryable, ids: number[]) =>
  db.prisma.recipe.findMany({ where: { id: { in: ids } } });

export const addRevision = (
  db: Queryable,
  options: { recipeId: number; revision: number; changeNote: string; authorId: number },
) => db.prisma.recipeRevision.create({ data: { ...options, writerIds: [options.authorId] } });
export const changeDraft = (db: Queryable, id: number, data: { changeNote: string; writerIds: number[] }) =>
  db.prisma.recipeRevision.update({ where: { id }, data: { ...data, version: { increment: 1 } } });
export const setStatus = (
  db: Queryable,
  id: number,
  data: {
    status: RecipeStatus;
    approvedById?: number;
    approvedAt?: Date;
    selfApproved?: boolean;
    supersededAt?: Date;
  },
) => db.prisma.recipeRevision.update({ where: { id }, data: { ...data, version: { increment: 1 } } });
export const removeDraft = async (db: Queryable, id: number) => {
  await db.prisma.recipeStep.deleteMany({ where: { revisionId: id } });
  await db.prisma.recipeRevision.delete({ where: { id } });
};

/** The steps of revisions in order, by the revision they belong to. */
export async function readSteps(db: Queryable, revisionIds: number[]): Promise<Map<number, Step[]>> {
  const rows = await db.prisma.recipeStep.findMany({
    where: { revisionId: { in: revisionIds } },
    orderBy: [{ revisionId: 'asc' }, { position: 'asc' }],
    omit: { id: true, position: true },
  });
  const steps = new Map<number, Step[]>(revisionIds.map((id) => [id, []]));
  for (const { revisionId, ...step } of rows) steps.get(revisionId)?.push(step as unknown as Step);
  return steps;
}
export async function writeSteps(db: Queryable, revisionId: number, steps: readonly (Step | NewStep)[]) {
  await db.prisma.recipeStep.deleteMany({ where: { revisionId } });
  await db.prisma.recipeStep.createMany({
    data: steps.map((step, index) => ({
      ...step,
      revisionId,
      position: index + 1,
      electrical: step.electrical ?? Prisma.DbNull,
    })),
  });
}

export interface ItemsAsked {
  search?: string | undefined;
  archived?: 'no' | 'yes' | 'all' | undefined;
  family?: string | undefined;
  baseMetal?: string | undefined;
  has?: 'approved' | 'draft' | undefined;
  sort?: 'number' | '-number' | 'name' | '-name' | undefined;
  after: { key: string; id: number } | null;
  limit: number;
}

/** Recipes with the revision that may be used and the draft that waits, one more than the page holds. */
export function readItems(
  execute: SqlExecutor,
  { search, archived = 'no', family, baseMetal, has, sort = 'number', after, limit }: ItemsAsked,
) {
  const column = Prisma.raw(sort.endsWith('name') ? 'h."name"' : 'h."number"');
  const down = sort.startsWith('-');
  const [order, past] = down ? [Prisma.raw('desc'), Prisma.raw('<')] : [Prisma.raw('asc'), Prisma.raw('>')];
  const only = [
    archived === 'all'
      ? null
      : archived === 'yes'
        ? sql`h."archivedAt" is not null`
        : sql`h."archivedAt" is null`,
    family === undefined ? null : sql`h."family" = ${family}`,
    baseMetal === undefined ? null : sql`${baseMetal} = any (h."baseMetals")`,
    has === undefined ? null : has === 'approved' ? sql`ok."id" is not null` : sql`d."id" is not null`,
    search ? sql`(h."number" || ' ' || h."name" || ' ' || h."colour") ilike ${containing(search)}` : null,
    after === null ? null : sql`(${column}, h."id") ${past} (${after.key}, ${after.id})`,
  ].filter((condition) => condition !== null);
  return execute<Omit<RecipeItem, 'measured'>>(sql`
    select h."id", h."number", h."name", h."family", h."baseMetals", h."colour",
           case when ok."id" is not null then jsonb_build_object('id', ok."id", 'revision', ok."revision",
             'approvedAt', to_char(ok."approvedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"')) end as "approved",
           case when d."id" is not null then jsonb_build_object('id', d."id", 'revision', d."revision",
             'author', d."snapshot" -> 'author') end as "draft",
           h."archivedAt" is not null as "archived"
      from "recipe" h
      left join "recipe_revision" ok on ok."recipeId" = h."id" and ok."status" = 'approved'
      left join "recipe_revision" d on d."recipeId" = h."id" and d."status" = 'draft'
     ${only.length === 0 ? Prisma.empty : sql`where ${Prisma.join(only, ' and ')}`}
     order by ${column} ${order}, h."id" ${order} limit ${limit + 1}`);
}

export interface UseRow {
  kind: 'quotation' | 'order' | 'lot';
  id: number;
  number: string;
  revision: number;
  status: string;
  at: Date;
}
const usesOf: Record<UseRow['kind'], Prisma.Sql> = {
  quotation: sql`
    select distinct 'quotation' as "kind", q."id", q."number", rr."revision", qr."status", qr."createdAt" as "at"
      from "recipe_revision" rr join "quotation_line" l on l."recipeRevisionId" = rr."id"
      join "quotation_revision" qr on qr."id" = l."revisionId" join "quotation" q on q."id" = qr."quotationId"`,
  order: sql`
    select distinct 'order' as "kind", o."id", o."number", rr."revision", o."status", o."createdAt" as "at"
      from "recipe_revision" rr join "order_line" l on l."recipeRevisionId" = rr."id"
      join "customer_order" o on o."id" = l."orderId"`,
  lot: sql`
    select 'lot' as "kind", l."id", l."number", rr."revision", l."status", l."createdAt" as "at"
      from "recipe_revision" rr join "lot" l on l."recipeRevisionId" = rr."id"`,
};

/** Records that name a revision of the recipe, newest first, one more than the page holds. */
export function readUses(
  execute: SqlExecutor,
  {
    recipeId,
    kinds,
    after,
    limit,
  }: {
    recipeId: number;
    kinds: UseRow['kind'][];
    after: { at: string; kind: string; id: number } | null;
    limit: number;
  },
) {
  const each = kinds.map((kind) => sql`${usesOf[kind]} where rr."recipeId" = ${recipeId}`);
  return execute<UseRow>(sql`
    select * from (${Prisma.join(each, ' union all ')}) u
     ${after === null ? Prisma.empty : sql`where (u."at", u."kind", u."id") < (${after.at}::timestamptz, ${after.kind}, ${after.id})`}
     order by u."at" desc, u."kind" desc, u."id" desc limit ${limit + 1}`);
}
