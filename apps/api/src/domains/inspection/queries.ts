import { sql, type Queryable, type Run } from '../../db/client.ts';

export const addCheck = (
  db: Queryable,
  of: {
    lotId: number;
    travelerId: number;
    acceptedCount: number;
    rejectedCount: number;
    reworkCount: number;
    reason: string;
    notes: string;
    checkedById: number;
  },
) => db.prisma.finalCheck.create({ data: of });

export const addShipment = (
  db: Queryable,
  of: {
    number: string;
    lotId: number;
    quantity: number;
    carrier: string;
    document: string;
    notes: string;
    shippedById: number;
  },
) => db.prisma.shipment.create({ data: of });

const one = async (rows: Promise<{ count: number }[]>) => (await rows)[0]?.count ?? 0;

/** Pieces of a lot rejected while a step was signed, over all its travelers; a carried sign-off counts once. */
export const rejectedAtSteps = (run: Run, lotId: number) =>
  one(
    run<{ count: number }>(
      sql`select coalesce(sum("rejectCount"), 0)::int as "count" from "step_sign_off" where "lotId" = ${lotId}`,
    ),
  );
export const rejectedAtChecks = (run: Run, lotId: number) =>
  one(
    run<{ count: number }>(
      sql`select coalesce(sum("rejectedCount"), 0)::int as "count" from "final_check" where "lotId" = ${lotId}`,
    ),
  );
