import type { SqlExecutor } from '../../db/client.ts';
import { chooseFrom, gather, prepareSearch, walkBack, type TraceAsked } from './find-queries.ts';
import { readCandidates } from './reading-queries.ts';

/** Up to so many readings a setting is rare: the search starts from them. */
const RARE = 6_000;
/** So far the search walks back before it takes the settings themselves for its start. */
const WINDOW = 8_000;

/**
 * Keys of the newest signed steps that match, one more than the page holds. What nobody or hardly anybody read is found by
 * the index of the figures, what is common by walking back in time, so that neither the rare nor the common reads the years.
 * Settings that are common each and never met together are the dearest: each is gathered whole.
 */
export async function findSignOffs(
  execute: SqlExecutor,
  asked: TraceAsked,
  { rare, window } = { rare: RARE, window: WINDOW },
): Promise<number[]> {
  const { ranges } = asked;
  const search = await prepareSearch(execute, asked);
  if (ranges.length === 0) return (await walkBack(execute, search, null)).ids;
  for (const range of ranges) {
    const candidates = await readCandidates(execute, { range, most: rare + 1 });
    if (candidates.length <= rare) return chooseFrom(execute, search, candidates);
  }
  const { ids, isAll } = await walkBack(execute, search, window);
  return isAll ? ids : gather(execute, search);
}
