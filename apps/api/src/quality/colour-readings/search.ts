import { deltaE2000 } from '@huelot/calc';
import type { searchColours } from '@huelot/contracts';
import type { z } from 'zod';
import type { SqlExecutor } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { readWithin, type PointRow } from './search-queries.ts';

const SHOWN = 200;
/** Readings that are compared one by one; more than a shop takes in years. */
const COMPARED = 20_000;
/**
 * How far CIELAB may lie apart where dE00 is 1: the weight of chroma at 200 is 10, of lightness less than 2.
 */
const WIDEST = 10;

/** Readings near a colour, nearest first; without one, by their difference from what was agreed, newest first. */
export async function searchReadings(
  execute: SqlExecutor,
  query: z.output<typeof searchColours.query>,
): Promise<{ items: PointRow[]; more: boolean }> {
  const { L, a, b, within, deltaEFrom, deltaETo, recipeId, illuminant, observerDeg } = query;
  const light = { illuminant: illuminant ?? 'D65', observerDeg: observerDeg ?? 2 };
  const figures = { L, a, b };
  const missing = (['L', 'a', 'b'] as const).filter((name) => figures[name] === undefined);
  if (L === undefined || a === undefined || b === undefined) {
    if (missing.length < 3) throw fieldError(missing[0] ?? 'L', 'must be given with the other two figures');
    if (within !== undefined) throw fieldError('within', 'needs L, a and b');
    const rows = await readWithin(execute, {
      box: null,
      light,
      deltaEFrom,
      deltaETo,
      recipeId,
      limit: SHOWN + 1,
    });
    return { items: rows.slice(0, SHOWN), more: rows.length > SHOWN };
  }
  const most = within ?? 2;
  const colour = { L, a, b };
  const rows = await readWithin(execute, {
    ...{ box: { ...colour, half: WIDEST * most }, light, deltaEFrom, deltaETo, recipeId, limit: COMPARED },
  });
  const near = rows
    .map((row) => ({ ...row, distance: deltaE2000(colour, row.lab) }))
    .filter(({ distance }) => distance <= most)
    .sort((one, other) => one.distance - other.distance);
  return { items: near.slice(0, SHOWN), more: near.length > SHOWN };
}
