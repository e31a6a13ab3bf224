import { shareInterval } from '@huelot/calc';
import type { ReworkShare } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { readReworked } from './queries.ts';

/** So many of the last lots say how it goes now. */
const LAST_LOTS = 20;

/** How many pieces of the last checked lots of a part, in any of its revisions, went round again, and between what the true share lies. */
export async function readReworkShare(
  execute: SqlExecutor,
  { partId, recipeId }: { partId: number; recipeId?: number | undefined },
): Promise<ReworkShare> {
  const { lots, pieces, reworked } = await readReworked(execute, { partId, recipeId, last: LAST_LOTS });
  return {
    ...{ lots, pieces, reworked },
    interval: pieces === 0 ? null : shareInterval({ count: reworked, total: pieces }),
  };
}
