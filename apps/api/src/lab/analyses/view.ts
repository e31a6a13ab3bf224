import type { Analysis } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readUse } from '../baths/index.ts';
import * as queries from './queries.ts';

const DAY = 86_400_000;

/** One analysis as its page shows it. */
export async function viewAnalysis(execute: SqlExecutor, id: number): Promise<Analysis> {
  const row = orNotFound(await queries.readAnalysis(execute, id), `analysis ${id}`);
  const [use = { loads: 0, areaM2: 0, ampereHours: 0 }] = await readUse(execute, [
    { bathId: row.bath.id, since: row.before, until: row.sampledAt },
  ]);
  const { voidedAt, voidedBy, voidReason, ...rest } = row;
  return {
    ...rest,
    void:
      voidedAt === null || voidedBy === null || voidReason === null
        ? null
        : { at: voidedAt.toISOString(), by: voidedBy, reason: voidReason },
    sampledAt: row.sampledAt.toISOString(),
    analysedAt: row.analysedAt.toISOString(),
    enteredAt: row.enteredAt.toISOString(),
    reviewedAt: row.reviewedAt?.toISOString() ?? null,
    results: await queries.readResultsOf(execute, id),
    use: {
      days: Math.max(0, (row.sampledAt.getTime() - (row.before ?? row.madeUpAt).getTime()) / DAY),
      ...use,
    },
  };
}
