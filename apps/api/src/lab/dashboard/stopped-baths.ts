import type { SqlExecutor } from '../../db/client.ts';
import { readBathStatuses } from '../baths/index.ts';
import { readWatchedBaths } from '../reminders/index.ts';

/** Baths past a stop limit, in the order of the line, each with what says so. */
export async function readStoppedBaths(
  execute: SqlExecutor,
): Promise<{ id: number; number: string; tankCode: string; reasons: string[] }[]> {
  const baths = await readWatchedBaths(execute);
  const standing = await readBathStatuses(execute, baths);
  return baths.flatMap(({ id, number, tankCode }) => {
    const status = standing.get(id)?.status;
    return status?.state === 'stop' ? [{ id, number, tankCode, reasons: status.reasons }] : [];
  });
}
