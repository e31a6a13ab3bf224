import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { indexedPatterns, likeAny } from '../../db/lists.ts';
import { readQuotationsByIds, status, today } from './queries.ts';

interface Asked {
  search?: string | undefined;
  status?: string | undefined;
  customerId?: number | undefined;
  before: number | null;
  limit: number;
}

/** Quotations of a list, the newest first, one more than the page holds. */
export async function readQuotations(execute: SqlExecutor, asked: Asked) {
  const { search, customerId, before, limit } = asked;
  const rows = await execute<{ id: number }>(sql`${plannedAnew}
    select q."id" from "quotation" q
     where true
       ${customerId === undefined ? Prisma.empty : sql`and q."customerId" = ${customerId}`}
       ${asked.status === undefined ? Prisma.empty : sql`and ${standsAs(asked.status)}`}
       ${search ? sql`and ${await bears(execute, search)}` : Prisma.empty}
       ${before === null ? Prisma.empty : sql`and q."id" < ${before}::int`}
     order by q."id" desc limit ${limit + 1}`);
  return readQuotationsByIds(
    execute,
    rows.map(({ id }) => id),
  );
}

/**
 * Whether the last revision of a quotation `q` stands so, or under a draft the last that was sent. The index finds revisions
 * that were written down as such, or as sent where that has lapsed since; which of them counts is looked at then.
 */
const standsAs = (wanted: string): Prisma.Sql => sql`
  q."id" in (select v."quotationId" from "quotation_revision" v
              where ${wanted === 'lapsed' ? sql`(v."status" = 'lapsed' or v."status" = 'sent' and v."validUntil" < ${today})` : sql`v."status" = ${wanted}`})
  and (
    select r."status" = ${wanted} or coalesce(i."status" = ${wanted}, false)
      from (select x."quotationId", ${status(sql`x`)} as "status" from "quotation_revision" x
             where x."quotationId" = q."id" order by x."revision" desc limit 1) r
      left join lateral (
        select ${status(sql`x`)} as "status" from "quotation_revision" x
         where x."quotationId" = q."id" and x."status" <> 'draft' and r."status" = 'draft'
         order by x."revision" desc limit 1) i on true)`;

async function bears(execute: SqlExecutor, words: string): Promise<Prisma.Sql> {
  const patterns = indexedPatterns(words);
  const customers = await execute<{ id: number }>(
    sql`${plannedAnew} select c."id" from "customer" c where ${likeAny(sql`c."name"`, patterns)}`,
  );
  return sql`(${likeAny(sql`q."number"`, patterns)}
    ${customers.length === 0 ? Prisma.empty : sql`or q."customerId" = any(${customers.map(({ id }) => id)}::int[])`})`;
}
