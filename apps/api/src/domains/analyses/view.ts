import type { Analysis } from '@huelot/contracts';
import type { Run } from '../../db/client.ts';
import { found } from '../../refusal.ts';
import { readUse } from '../baths/index.ts';
import * as queries from './queries.ts';

const DAY = 86_400_000;

/** One analysis as its page shows it. */
export async function viewAnalysis(run: Run, id: number): Promise<Analysis> {
  const row = found(await queries.readAnalysis(run, id), `analysis ${id}`);
  const [use = { loads: 0, areaM2: 0, ampereHours: 0 }] = await readUse(run, [
    { bathId: row.bath.id, since: row.before, until: row.sampledAt },
  ]);
  return {
    ...row,
    sampledAt: row.sampledAt.toISOString(),
    analysedAt: row.analysedAt.toISOString(),
    enteredAt: row.enteredAt.toISOString(),
    reviewedAt: row.reviewedAt?.toISOString() ?? null,
    results: await queries.readResultsOf(run, id),
    use: {
      days: Math.max(0, (row.sampledAt.getTime() - (row.before ?? row.madeUpAt).getTime()) / DAY),
      ...use,
    },
  };
}
