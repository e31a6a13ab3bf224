import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';

/** A setting as it was read, within two figures of which one may be missing. */
export interface Range {
  quantity: string;
  min: number | null;
  max: number | null;
}

/** A reading `r` as it stands: the latest correction, or the figure that was signed. */
export const standing = sql`
  coalesce((select c."newValue" from "step_correction" c where c."signOffId" = r."signOffId" and c."quantity" = r."quantity"
             order by c."id" desc limit 1), r."value")`;

const between = (value: Prisma.Sql, { min, max }: Range) => sql`
  ${min === null ? Prisma.empty : sql`and ${value} >= ${min}::float8`}
  ${max === null ? Prisma.empty : sql`and ${value} <= ${max}::float8`}`;

/** Of a sign-off with the key `signOffId`, that its reading stands within the range: for those that are found already. */
export const stands = (signOffId: Prisma.Sql, range: Range): Prisma.Sql => sql`
  exists (select 1 from "step_reading" r
           where r."signOffId" = ${signOffId} and r."quantity" = ${range.quantity} ${between(standing, range)})`;

/**
 * All sign-offs whose reading stands within the range, by the indexes on the figures: what was signed and never put right,
 * and what it was put right to.
 */
export const signOffsWithin = (range: Range): Prisma.Sql => sql`
  select r."signOffId" from "step_reading" r
   where r."quantity" = ${range.quantity} ${between(sql`r."value"`, range)}
     and not exists (select 1 from "step_correction" c where c."signOffId" = r."signOffId" and c."quantity" = r."quantity")
  union
  select c."signOffId" from "step_correction" c
   where c."quantity" = ${range.quantity} ${between(sql`c."newValue"`, range)}
     and exists (select 1 from "step_reading" r where r."signOffId" = c."signOffId" and r."quantity" = c."quantity")
     and not exists (select 1 from "step_correction" n
                      where n."signOffId" = c."signOffId" and n."quantity" = c."quantity" and n."id" > c."id")`;

/**
 * Sign-offs that a figure within the range was read or corrected at, up to `most` of each; whether it still stands is to be
 * looked at. One look along each index, and nothing that the planner could do instead.
 */
export async function readCandidates(
  execute: SqlExecutor,
  { range, most }: { range: Range; most: number },
): Promise<number[]> {
  const rows = await execute<{ id: number }>(sql`${plannedAnew}
    (select r."signOffId" as "id" from "step_reading" r
      where r."quantity" = ${range.quantity} ${between(sql`r."value"`, range)} order by r."value" limit ${most})
    union all
    (select c."signOffId" from "step_correction" c
      where c."quantity" = ${range.quantity} ${between(sql`c."newValue"`, range)} order by c."newValue" limit ${most})`);
  return rows.map(({ id }) => id);
}
