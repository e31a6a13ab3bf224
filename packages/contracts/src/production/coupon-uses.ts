import { z } from 'zod';
import { RecipeStatus } from '../catalog/recipes.ts';
import { defineQuery } from '../kernel/http.ts';
import { Count, Id, PathId } from '../kernel/scalars.ts';
import { LotStatus } from './lots.ts';

/** What rests on a coupon series: the recipe revisions that cite it, and the lots run on them in its alloy. */
export const CouponUses = z
  .object({
    revisions: z.array(
      z.object({
        id: Id,
        recipeId: Id,
        number: z.string(),
        name: z.string(),
        revision: z.int(),
        status: RecipeStatus,
        isWithdrawn: z.boolean(),
      }),
    ),
    /** The newest 100 of them. */
    lots: z.array(
      z.object({ id: Id, number: z.string(), status: LotStatus, quantity: Count, shippedCount: Count }),
    ),
    lotCount: Count,
  })
  .meta({ id: 'CouponUses' });
export type CouponUses = z.output<typeof CouponUses>;

export const listCouponUses = defineQuery({
  name: 'listCouponUses',
  tags: ['production'],
  path: '/coupon-series/:id/uses',
  access: 'lots.read',
  summary: 'Where a coupon series is used, from the recipes that cite it to the lots that were shipped',
  params: { id: PathId },
  reply: CouponUses,
});
