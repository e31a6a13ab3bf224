import type { CouponUses } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

const MAX_LOTS = 100;

/** Where a coupon series is used, from the recipes that cite it to the lots that were shipped. */
export async function readCouponUses(execute: SqlExecutor, seriesId: number): Promise<CouponUses> {
  const revisions = await execute<CouponUses['revisions'][number]>(sql`
    select x."id", x."recipeId", r."number", r."name", x."revision", x."status", e."withdrawnAt" is not null as "isWithdrawn"
      from "recipe_evidence" e
      join "recipe_revision" x on x."id" = e."revisionId"
      join "recipe" r on r."id" = x."recipeId"
     where e."seriesId" = ${seriesId} order by r."number", x."revision" desc, e."id" limit 200`);
  const lots = await execute<CouponUses['lots'][number] & { total: number }>(sql`
    select l."id", l."number", l."status", l."quantity", l."shippedCount", count(*) over ()::int as "total"
      from "lot" l join "part" p on p."id" = l."partId"
     where exists (
       select from "recipe_evidence" e
        where e."seriesId" = ${seriesId} and e."withdrawnAt" is null
          and e."revisionId" = l."recipeRevisionId" and e."materialId" = p."materialId")
     order by l."id" desc limit ${MAX_LOTS}`);
  return {
    revisions,
    lots: lots.map(({ total: _, ...lot }) => lot),
    lotCount: lots[0]?.total ?? 0,
  };
}
