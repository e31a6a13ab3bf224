import type { EvidenceException, ExceptionPlace } from '@huelot/contracts';
import { type Prisma, sql, type SqlExecutor } from '../../db/client.ts';

const exception = sql`
  select x."id", x."place", x."recordNumber" as "record", x."finding", x."reason", x."snapshot" ->> 'allowedBy' as "by",
         x."snapshot" ->> 'askedBy' as "askedBy",
         to_char(x."allowedAt" at time zone 'UTC', 'YYYY-MM-DD"T"HH24:MI:SS.MS"Z"') as "at"
    from "evidence_exception" x`;
const read = (execute: SqlExecutor, where: Prisma.Sql) =>
  execute<EvidenceException>(sql`${exception} where ${where} order by x."id"`);

/** What was allowed without evidence when a recipe revision was approved. */
export const readExceptionsOfRevision = (execute: SqlExecutor, recipeRevisionId: number) =>
  read(execute, sql`x."recipeRevisionId" = ${recipeRevisionId} and x."place" = 'approval'`);
/** What was allowed without evidence on a lot, from its quotation to its last signature. */
export const readExceptionsOfLot = (
  execute: SqlExecutor,
  lot: { id: number; quotationRevisionId: number | null; materialId: number; recipeRevisionId: number },
) =>
  read(
    execute,
    sql`x."lotId" = ${lot.id}
        or x."quotationRevisionId" = ${lot.quotationRevisionId}::int and x."materialId" = ${lot.materialId}
        or x."place" = 'approval' and x."recipeRevisionId" = ${lot.recipeRevisionId}`,
  );

/** Whose word lets the colour steps of a lot be signed on a recipe revision; null where nobody gave it. */
export const readSignatureWord = async (
  execute: SqlExecutor,
  { lotId, recipeRevisionId }: { lotId: number; recipeRevisionId: number },
): Promise<{ by: string; reason: string } | null> =>
  (
    await execute<{ by: string; reason: string }>(sql`
      select x."snapshot" ->> 'allowedBy' as "by", x."reason" from "evidence_exception" x
       where x."place" = 'signature' and x."lotId" = ${lotId} and x."recipeRevisionId" = ${recipeRevisionId}
       order by x."id" desc limit 1`)
  )[0] ?? null;

export interface NewException {
  place: ExceptionPlace;
  recipeRevisionId: number;
  materialId: number | null;
  quotationRevisionId?: number;
  lotId?: number;
  stepId?: number;
  recordNumber: string;
  finding: string;
  reason: string;
  allowedById: number;
  askedById: number;
}
export async function addException(execute: SqlExecutor, row: NewException): Promise<number> {
  const [added] = await execute<{ id: number }>(sql`
    insert into "evidence_exception" ("place", "recipeRevisionId", "materialId", "quotationRevisionId", "lotId", "stepId",
      "recordNumber", "finding", "reason", "allowedById", "askedById")
    values (${row.place}, ${row.recipeRevisionId}, ${row.materialId}::int, ${row.quotationRevisionId ?? null}::int,
      ${row.lotId ?? null}::int, ${row.stepId ?? null}::int, ${row.recordNumber}, ${row.finding}, ${row.reason},
      ${row.allowedById}, ${row.askedById})
    returning "id"`);
  if (added === undefined) throw new Error('an exception was not written');
  return added.id;
}
