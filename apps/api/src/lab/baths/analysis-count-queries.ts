import { type Prisma, sql } from '../../db/client.ts';

/** Whether an analysis counts, by its key: no correction took its place, and nobody voided it. */
export const analysisCounts = (analysisId: Prisma.Sql) => sql`(
  not exists (select 1 from "analysis" n where n."supersedesId" = ${analysisId})
  and not exists (select 1 from "analysis" v where v."id" = ${analysisId} and v."voidedAt" is not null))`;
