import type { LotEvidence } from '@huelot/contracts';
import { sql, type SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { judgeEvidence, readExceptionsOfLot, readProofOfLot } from '../../colour/evidence/index.ts';

/** What a lot rests on, and what was allowed on it without evidence, from its quotation to its last signature. */
export async function readLotEvidence(execute: SqlExecutor, id: number): Promise<LotEvidence> {
  const [row] = await execute<{
    id: number;
    recipeRevisionId: number;
    materialId: number;
    partId: number;
    alloy: { name: string; condition: string; baseMetal: string };
    quotationRevisionId: number | null;
  }>(sql`
    select l."id", l."recipeRevisionId", p."materialId", l."partId", l."snapshot" -> 'part' -> 'material' as "alloy", o."quotationRevisionId"
      from "lot" l
      join "part" p on p."id" = l."partId"
      join "order_line" ol on ol."id" = l."orderLineId"
      join "customer_order" o on o."id" = ol."orderId"
     where l."id" = ${id}`);
  const lot = orNotFound(row, `lot ${id}`);
  const [[verdict], exceptions, proves] = await Promise.all([
    judgeEvidence(execute, [lot]),
    readExceptionsOfLot(execute, lot),
    readProofOfLot(execute, id),
  ]);
  return { verdict: orNotFound(verdict, `lot ${id}`), exceptions, proves };
}
