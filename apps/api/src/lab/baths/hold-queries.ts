import type { BathHold } from '@huelot/contracts';
import { Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { analysisCounts } from './analysis-count-queries.ts';

export interface HoldRow extends Omit<BathHold, 'fromAt' | 'release'> {
  fromAt: Date;
  releasedAt: Date | null;
  releasedBy: string | null;
  temperatureC: number | null;
  mixedS: number | null;
  analysis: { id: number; number: string } | null;
  releaseNote: string;
}

/**
 * An analysis confirms while the hold stands: sampled after the addition, it stands, found what the addition asks to have
 * confirmed, and nothing amiss.
 */
const holds = sql`
  select h."id", h."bathId", h."reason", h."fromAt", h."snapshot" ->> 'placedBy' as "placedBy",
         case when x."id" is null then null else jsonb_build_object('id', x."id", 'number', x."number") end as "addition",
         h."releasedAt", h."snapshot" ->> 'releasedBy' as "releasedBy", h."temperatureC", h."mixedS", h."releaseNote",
         case when y."id" is null then null else jsonb_build_object('id', y."id", 'number', y."number") end as "analysis",
         case when h."releasedAt" is not null then null else (
           select jsonb_build_object('id', a."id", 'number', a."number", 'bathTemperatureC', a."bathTemperatureC")
             from "bath_request" q join "analysis" a on a."bathId" = h."bathId" and a."sampledAt" >= x."finishedAt"
            where q."additionId" in (
                    with recursive line("id") as (
                      select h."additionId" union select n."id" from "addition" n join line on n."correctsId" = line."id")
                    select "id" from line)
              and q."components" <@ array(select s."component" from "analysis_result" s where s."analysisId" = a."id")
              and ${analysisCounts(sql`a."id"`)}
              and not exists (select 1 from "analysis_result" s where s."analysisId" = a."id" and s."state" in ('watch', 'stop'))
            order by a."sampledAt" desc, a."id" desc limit 1) end as "confirmedBy"
    from "bath_hold" h
    left join "addition" x on x."id" = h."additionId"
    left join "analysis" y on y."id" = h."analysisId"`;

export const readHold = async (execute: SqlExecutor, id: number): Promise<HoldRow | null> =>
  (await execute<HoldRow>(sql`${holds} where h."id" = ${id}`))[0] ?? null;
/** The hold of an addition: a correction keeps that of the record it took the place of. */
export const readHoldOfAddition = async (execute: SqlExecutor, additionId: number): Promise<HoldRow | null> =>
  (
    await execute<HoldRow>(sql`
      ${holds} where h."additionId" in (
        with recursive line("id") as (
          select ${additionId}::int
          union select o."correctsId" from "addition" o join line on o."id" = line."id" where o."correctsId" is not null)
        select "id" from line)`)
  )[0] ?? null;
/** What keeps work out of baths now, the oldest first. */
export const readOpenHolds = async (execute: SqlExecutor, bathIds: readonly number[]): Promise<HoldRow[]> =>
  bathIds.length === 0
    ? []
    : execute<HoldRow>(sql`
        ${holds} where h."bathId" = any(${[...bathIds]}) and h."releasedAt" is null order by h."fromAt", h."id"`);
/** The holds of a bath, newest first, one more than the page holds. */
export const readHolds = (
  execute: SqlExecutor,
  { bathId, before, limit }: { bathId: number; before: number | null; limit: number },
) =>
  execute<HoldRow>(sql`
    ${holds} where h."bathId" = ${bathId}
      ${before === null ? Prisma.empty : sql`and h."id" < ${before}`}
     order by h."id" desc limit ${limit + 1}`);

export async function addHold(
  execute: SqlExecutor,
  {
    bathId,
    additionId,
    reason,
    fromAt,
    placedById,
  }: { bathId: number; additionId: number | null; reason: string; fromAt: Date; placedById: number },
): Promise<number> {
  const [row] = await execute<{ id: number }>(sql`
    insert into "bath_hold" ("bathId", "additionId", "reason", "fromAt", "placedById")
    values (${bathId}, ${additionId}::int, ${reason}, ${fromAt}, ${placedById})
    returning "id"`);
  if (row === undefined) throw new Error('a hold was not written');
  return row.id;
}
export const setReleased = (
  execute: SqlExecutor,
  {
    releasedById,
    temperatureC,
    mixedS,
    analysisId,
    note,
    id,
  }: {
    id: number;
    releasedById: number;
    temperatureC: number | null;
    mixedS: number | null;
    analysisId: number | null;
    note: string;
  },
) =>
  execute(sql`
    update "bath_hold" set "releasedAt" = greatest(now(), "fromAt"), "releasedById" = ${releasedById},
           "temperatureC" = ${temperatureC}::float8, "mixedS" = ${mixedS}::float8, "analysisId" = ${analysisId}::int,
           "releaseNote" = ${note}
     where "id" = ${id}`);
/** What a hold may name of the bath that it is of: an addition that is planned, an analysis that stands. */
export const readNamed = async (
  execute: SqlExecutor,
  { table, id, bathId }: { bathId: number; table: 'addition' | 'analysis'; id: number },
): Promise<{ number: string; counts: boolean } | null> =>
  (
    await execute<{ number: string; counts: boolean }>(
      table === 'addition'
        ? sql`select "number", "state" = 'planned' as "counts" from "addition" where "id" = ${id} and "bathId" = ${bathId}`
        : sql`select a."number", ${analysisCounts(sql`a."id"`)} as "counts"
                from "analysis" a where a."id" = ${id} and a."bathId" = ${bathId}`,
    )
  )[0] ?? null;

/** What a release after an addition is judged by: the limits of the tank, and how soon the sample was taken. */
export async function readReleaseLimits(
  execute: SqlExecutor,
  { holdId, analysisId }: { holdId: number; analysisId: number | null },
): Promise<{ minC: number | null; maxC: number | null; sampledAfterS: number | null }> {
  const [row] = await execute<{ minC: number | null; maxC: number | null; sampledAfterS: number | null }>(sql`
    select t."temperatureMinC" as "minC", t."temperatureMaxC" as "maxC",
           (select extract(epoch from a."sampledAt" - x."finishedAt")::float8 from "analysis" a where a."id" = ${analysisId}::int) as "sampledAfterS"
      from "bath_hold" h join "bath" b on b."id" = h."bathId" join "tank" t on t."id" = b."tankId"
      left join "addition" x on x."id" = h."additionId"
     where h."id" = ${holdId}`);
  return row ?? { minC: null, maxC: null, sampledAfterS: null };
}

/** How a page shows a hold. */
export const toHold = ({
  releasedAt,
  releasedBy,
  temperatureC,
  mixedS,
  analysis,
  releaseNote,
  ...row
}: HoldRow): BathHold => ({
  ...row,
  fromAt: row.fromAt.toISOString(),
  release:
    releasedAt === null || releasedBy === null
      ? null
      : { at: releasedAt.toISOString(), by: releasedBy, temperatureC, mixedS, analysis, note: releaseNote },
});
