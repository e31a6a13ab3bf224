import type { RecordKind } from '@huelot/contracts';
import { plannedAnew, Prisma, sql, type SqlExecutor } from '../../db/client.ts';
import { indexedPatterns, likeAny } from '../../db/lists.ts';

export interface AuditRow {
  id: string;
  at: Date;
  personName: string;
  action: string;
  recordKind: RecordKind;
  recordId: number;
  recordNumber: string | null;
  changes: { field: string; old: unknown; new: unknown }[];
  reason: string | null;
}

interface Asked {
  kind?: RecordKind | undefined;
  id?: number | undefined;
  search?: string | undefined;
  personId?: number | undefined;
  from?: string | undefined;
  to?: string | undefined;
  before: string | null;
  limit: number;
}

/** As the index has them. */
const words = sql`("personName" || ' ' || "action" || ' ' || coalesce("recordNumber", ''))`;

/** Audit rows newest first, one more than the page holds. */
export const readAudit = (execute: SqlExecutor, filter: Asked) =>
  execute<AuditRow>(sql`${filter.search ? plannedAnew : Prisma.empty}
    select "id"::text, "at", "personName", "action", "recordKind", "recordId", "recordNumber", "changes", "reason"
      from "audit_entry"
     where true
       ${filter.kind === undefined ? Prisma.empty : sql`and "recordKind" = ${filter.kind}`}
       ${filter.id === undefined ? Prisma.empty : sql`and "recordId" = ${filter.id}`}
       ${filter.personId === undefined ? Prisma.empty : sql`and "personId" = ${filter.personId}`}
       ${filter.from === undefined ? Prisma.empty : sql`and "at" >= (${filter.from}::date)::timestamp at time zone (select "timeZone" from "shop")`}
       ${filter.to === undefined ? Prisma.empty : sql`and "at" < ((${filter.to}::date) + 1)::timestamp at time zone (select "timeZone" from "shop")`}
       ${filter.before === null ? Prisma.empty : sql`and "id" < ${filter.before}::bigint`}
       ${filter.search ? sql`and ${likeAny(words, indexedPatterns(filter.search))}` : Prisma.empty}
     order by "audit_entry"."id" desc
     limit ${filter.limit + 1}`);
