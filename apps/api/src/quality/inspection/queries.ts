import { sql, type Queryable, type SqlExecutor } from '../../db/client.ts';
import { standingCount } from '../../production/travelers/index.ts';

export const addCheck = (
  db: Queryable,
  options: {
    lotId: number;
    travelerId: number;
    acceptedCount: number;
    rejectedCount: number;
    reworkCount: number;
    reason: string;
    notes: string;
    checkedById: number;
  },
) => db.prisma.finalCheck.create({ data: options });

export const addShipment = (
  db: Queryable,
  options: {
    number: string;
    lotId: number;
    quantity: number;
    carrier: string;
    document: string;
    notes: string;
    shippedById: number;
  },
) => db.prisma.shipment.create({ data: options });

const one = async (rows: Promise<{ count: number }[]>) => (await rows)[0]?.count ?? 0;

/** Pieces of a lot rejected while a step was signed, over all its travelers; a carried sign-off counts once. */
export const rejectedAtSteps = (execute: SqlExecutor, lotId: number) =>
  one(
    execute<{ count: number }>(
      sql`select coalesce(sum(${standingCount('s', 'rejectCount')}), 0)::int as "count" from "step_sign_off" s where s."lotId" = ${lotId}`,
    ),
  );
export const rejectedAtChecks = (execute: SqlExecutor, lotId: number) =>
  one(
    execute<{ count: number }>(
      sql`select coalesce(sum("rejectedCount"), 0)::int as "count" from "final_check" where "lotId" = ${lotId}`,
    ),
  );

/** The alloy of a lot: the row it is today, and as it was when the lot was released. */
export const readLotAlloy = async (execute: SqlExecutor, lotId: number) =>
  (
    await execute<{
      materialId: number;
      material: { name: string; condition: string; baseMetal: string };
    }>(sql`
      select p."materialId", l."snapshot" -> 'part' -> 'material' as "material"
        from "lot" l join "part" p on p."id" = l."partId" where l."id" = ${lotId}`)
  )[0] ?? null;
