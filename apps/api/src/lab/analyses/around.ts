import type { AnalysisSummary } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import * as queries from './queries.ts';

/**
 * For steps signed in a bath that is analysed: the analysis that stood before each and the one after.
 *
 * @example
 * const around = await analysesAround(db.run, [signOff.id]);
 */
export async function analysesAround(
  execute: SqlExecutor,
  signOffIds: readonly number[],
): Promise<
  {
    signOffId: number;
    bath: { id: number; number: string };
    before: AnalysisSummary | null;
    after: AnalysisSummary | null;
  }[]
> {
  if (signOffIds.length === 0) return [];
  const steps = await queries.readAroundSteps(execute, signOffIds);
  const ids = [...new Set(steps.flatMap(({ beforeId, afterId }) => [beforeId ?? [], afterId ?? []].flat()))];
  const rows = await queries.readAnalyses(execute, { ids, before: null, limit: ids.length });
  const summaries = new Map((await queries.toSummaries(execute, rows)).map((one) => [one.id, one]));
  return steps.flatMap(({ beforeId, afterId, ...step }) => {
    const before = summaries.get(beforeId ?? 0) ?? null;
    const after = summaries.get(afterId ?? 0) ?? null;
    return before === null && after === null ? [] : [{ ...step, before, after }];
  });
}
