import type { NumberSeries, updateNumberSeries } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Run } from '../../db/client.ts';
import { found, invalid } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './queries.ts';

const toSeries = (row: queries.SeriesRow): NumberSeries => ({
  ...row,
  sample: `${row.prefix}${String(row.next).padStart(row.digits, '0')}`,
});

/** How each kind of record is numbered, with the number the next one gets. */
export const readNumbering = async (run: Run) => ({ items: (await queries.readSeries(run)).map(toSeries) });

/** Changes how a kind is numbered from now on. The next number may only rise: given ones are never given again. */
export async function changeNumbering(
  db: Db,
  of: {
    actor: Actor;
    kind: queries.SeriesRow['kind'];
    input: z.output<typeof updateNumberSeries.body>;
  },
): Promise<NumberSeries> {
  const { actor, kind, input } = of;
  return inTransaction(db, async (tx) => {
    const [before] = await queries.lockSeries(tx.run, kind);
    const series = found(before, `number series for ${kind}`);
    if (input.next < series.next) {
      throw invalid('next', `must be at least ${series.next}: the numbers below it were given already`);
    }
    const holder = await queries.readSeriesByPrefix(tx, input.prefix);
    if (holder !== null && holder.kind !== kind) {
      throw invalid('prefix', `${input.prefix} is the prefix of ${holder.kind} numbers already`);
    }
    await queries.changeSeries(tx, { kind, ...input });
    await record(tx.run, actor, {
      kind: 'shop',
      id: 1,
      action: 'changed the numbering',
      changes: changesBetween(series, input).map((change) => ({
        ...change,
        field: `${kind} ${change.field}`,
      })),
    });
    return toSeries({ kind, ...input });
  });
}
