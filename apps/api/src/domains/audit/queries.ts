import type { RecordKind } from '@huelot/contracts';
import { sql, Prisma, type Run } from '../../db/client.ts';

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
  before: string | null;
  limit: number;
}

/** Audit rows newest first, one more than the page holds. */
export const readAudit = (run: Run, asked: Asked) =>
  run<AuditRow>(sql`
    select "id"::text, "at", "personName", "action", "recordKind", "recordId", "recordNumber", "changes", "reason"
      from "audit_entry"
     where true
       ${asked.kind === undefined ? Prisma.empty : sql`and "recordKind" = ${asked.kind}`}
       ${asked.id === undefined ? Prisma.empty : sql`and "recordId" = ${asked.id}`}
       ${asked.before === null ? Prisma.empty : sql`and "id" < ${asked.before}::bigint`}
       ${asked.search ? sql`and ("personName" || ' ' || "action" || ' ' || coalesce("recordNumber", '')) ilike ${`%${asked.search}%`}` : Prisma.empty}
     order by "audit_entry"."id" desc
     limit ${asked.limit + 1}`);
