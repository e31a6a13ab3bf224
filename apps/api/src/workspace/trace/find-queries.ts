import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { signOffsWithin, stands, type Range } from './reading-queries.ts';

export interface TraceAsked {
  partId?: number | undefined;
  customerId?: number | undefined;
  materialId?: number | undefined;
  recipeId?: number | undefined;
  tankId?: number | undefined;
  bathId?: number | undefined;
  supplyId?: number | undefined;
  personId?: number | undefined;
  stepKind?: string | undefined;
  outside?: 'yes' | 'no' | undefined;
  from?: string | undefined;
  to?: string | undefined;
  ranges: Range[];
  timeZone: string;
  after: { doneAt: string; id: number } | null;
  limit: number;
}

/** A column that is asked for by several keys at once: the parts of a customer, the revisions of a recipe. */
interface Lanes {
  column: Prisma.Sql;
  keys: readonly number[];
}

/** A search with what its customer and its recipe stand for; where both are asked for, the search goes along the first. */
export interface Search {
  asked: TraceAsked;
  lanes: Lanes | null;
  also: Lanes | null;
}

const only = (column: Prisma.Sql, value: number | string | undefined) =>
  value === undefined ? Prisma.empty : sql`and ${column} = ${value}`;
const newestFirst = sql`order by s."doneAt" desc, s."id" desc`;

/** What is asked of a sign-off `s` by its own columns. */
const matching = ({ asked, also }: Search): Prisma.Sql => {
  const { from, to, timeZone, after, outside } = asked;
  return sql`
    ${only(sql`s."partId"`, asked.partId)} ${only(sql`s."materialId"`, asked.materialId)}
    ${only(sql`s."tankId"`, asked.tankId)} ${only(sql`s."bathId"`, asked.bathId)}
    ${only(sql`s."supplyId"`, asked.supplyId)} ${only(sql`s."personId"`, asked.personId)}
    ${only(sql`s."stepKind"`, asked.stepKind)}
    ${also === null ? Prisma.empty : sql`and ${also.column} = any(${[...also.keys]}::int[])`}
    ${outside === undefined ? Prisma.empty : outside === 'yes' ? sql`and s."outside"` : sql`and not s."outside"`}
    ${from === undefined ? Prisma.empty : sql`and s."doneAt" >= (${from}::date)::timestamp at time zone ${timeZone}`}
    ${to === undefined ? Prisma.empty : sql`and s."doneAt" < ((${to}::date) + 1)::timestamp at time zone ${timeZone}`}
    ${after === null ? Prisma.empty : sql`and (s."doneAt", s."id") < (${after.doneAt}::timestamptz, ${after.id}::int)`}`;
};

/** For each key of the lanes, or once where there are none. */
const along = (lanes: Lanes | null, look: (lane: Prisma.Sql) => Prisma.Sql): Prisma.Sql =>
  lanes === null
    ? sql`(${look(Prisma.empty)})`
    : sql`unnest(${[...lanes.keys]}::int[]) k ("key") cross join lateral (${look(sql`and ${lanes.column} = k."key"`)})`;

/**
 * Keys of the newest sign-offs that match, looking back over no more than `window` of each lane; `isAll` where there is
 * nothing beyond. The walk ends as soon as the page is full.
 */
export async function walkBack(
  execute: SqlExecutor,
  search: Search,
  window: number | null,
): Promise<{ ids: number[]; isAll: boolean }> {
  const { asked, lanes } = search;
  const most = asked.limit + 1;
  const lane = (narrowed: Prisma.Sql) => sql`
    select s."id", s."doneAt" from "step_sign_off" s where true ${narrowed} ${matching(search)} ${newestFirst}
     limit ${window ?? most}`;
  const within = asked.ranges.map((range) => sql`and ${stands(sql`s."id"`, range)}`);
  const found = (narrowed: Prisma.Sql) =>
    window === null
      ? lane(narrowed)
      : sql`select s."id", s."doneAt" from (${lane(narrowed)}) s where true ${Prisma.join(within, ' ')} ${newestFirst} limit ${most}`;
  const [row] = await execute<{ ids: number[]; walked: number | null }>(sql`${plannedAnew}
    select f."ids", ${
      window === null
        ? sql`null::int`
        : sql`case when cardinality(f."ids") < ${most}::int then (
                select max(w."n") from ${along(lanes, (narrowed) => sql`select count(*)::int as "n" from (${lane(narrowed)}) s`)} w) end`
    } as "walked"
      from (select array(select s."id" from ${along(lanes, found)} s ${newestFirst} limit ${most}) as "ids") f`);
  const ids = row?.ids ?? [];
  return { ids, isAll: window === null || ids.length === most || (row?.walked ?? 0) < window };
}

/** Keys of the newest sign-offs that match, from some candidates. */
export const chooseFrom = (
  execute: SqlExecutor,
  search: Search,
  candidates: readonly number[],
): Promise<number[]> =>
  among(execute, search, {
    keys: sql`${[...candidates]}::int[]`,
    within: search.asked.ranges.map((range) => sql`and ${stands(sql`s."id"`, range)}`),
  });

/** Keys of the newest sign-offs that match, from all whose readings stand within all ranges. */
export const gather = (execute: SqlExecutor, search: Search): Promise<number[]> =>
  among(execute, search, {
    keys: sql`array(${Prisma.join(
      search.asked.ranges.map((range) => sql`select x."signOffId" from (${signOffsWithin(range)}) x`),
      ' intersect ',
    )})`,
    within: [],
  });

async function among(
  execute: SqlExecutor,
  search: Search,
  { keys, within }: { keys: Prisma.Sql; within: readonly Prisma.Sql[] },
): Promise<number[]> {
  const { asked, lanes } = search;
  const rows = await execute<{ id: number }>(sql`${plannedAnew}
    select s."id" from "step_sign_off" s
     where s."id" = any(${keys}) ${matching(search)}
       ${lanes === null ? Prisma.empty : sql`and ${lanes.column} = any(${[...lanes.keys]}::int[])`}
       ${within.length === 0 ? Prisma.empty : Prisma.join([...within], ' ')}
     ${newestFirst} limit ${asked.limit + 1}`);
  return rows.map(({ id }) => id);
}

/** Looks up what the customer and the recipe of a search stand for. */
export async function prepareSearch(execute: SqlExecutor, asked: TraceAsked): Promise<Search> {
  const { customerId, recipeId } = asked;
  const lanesOf = async (column: Prisma.Sql, keys: Prisma.Sql): Promise<Lanes> => ({
    column,
    keys: (await execute<{ id: number }>(keys)).map(({ id }) => id),
  });
  const parts =
    customerId === undefined
      ? null
      : await lanesOf(sql`s."partId"`, sql`select "id" from "part" where "customerId" = ${customerId}`);
  const revisions =
    recipeId === undefined
      ? null
      : await lanesOf(
          sql`s."recipeRevisionId"`,
          sql`select "id" from "recipe_revision" where "recipeId" = ${recipeId}`,
        );
  return parts === null ? { asked, lanes: revisions, also: null } : { asked, lanes: parts, also: revisions };
}
