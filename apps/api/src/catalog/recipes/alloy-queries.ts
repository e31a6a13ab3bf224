import type { BaseMetal } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';

/** An alloy in a condition that was ordered in a recipe. */
export interface OrderedAlloy {
  id: number;
  name: string;
  condition: string;
  baseMetal: BaseMetal;
}

/**
 * The alloys of the parts that were ordered in recipes, in whichever revision, by the recipe. A recipe itself names metals
 * only, so that this is where the record knows what it colours.
 *
 * @example
 * const alloys = await readOrderedAlloys(db.run, [recipe.id]);
 */
export async function readOrderedAlloys(
  execute: SqlExecutor,
  recipeIds: readonly number[],
): Promise<Map<number, OrderedAlloy[]>> {
  const alloys = new Map<number, OrderedAlloy[]>();
  if (recipeIds.length === 0) return alloys;
  const rows = await execute<OrderedAlloy & { recipeId: number }>(sql`
    select distinct r."recipeId", m."id", m."name", m."condition", m."baseMetal"
      from "recipe_revision" r
      join "order_line" l on l."recipeRevisionId" = r."id"
      join "part" p on p."id" = l."partId"
      join "material" m on m."id" = p."materialId"
     where r."recipeId" = any(${[...recipeIds]}::int[]) and l."cancelledAt" is null
     order by m."name", m."condition", m."id"`);
  for (const { recipeId, ...alloy } of rows) alloys.set(recipeId, [...(alloys.get(recipeId) ?? []), alloy]);
  return alloys;
}
