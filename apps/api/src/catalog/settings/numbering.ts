import type { NumberSeries, updateNumberSeries } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { orNotFound, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';

const toSeries = (row: queries.SeriesRow): NumberSeries => ({
  ...row,
  sample: `${row.prefix}${String(row.next).padStart(row.digits, '0')}`,
});

/** How each kind of record is numbered, with the number the next one gets. */
export const readNumbering = async (execute: SqlExecutor) => ({
  items: (await queries.readSeries(execute)).map(toSeries),
});

/** Changes how a kind is numbered from now on. The next number may only rise: given ones are never given again. */
export async function changeNumbering(
  db: Db,
  {
    actor,
    kind,
    input,
  }: {
    actor: Actor;
    kind: queries.SeriesRow['kind'];
    input: z.output<typeof updateNumberSeries.body>;
  },
): Promise<NumberSeries> {
  return inTransaction(db, async (tx) => {
    const [before] = await queries.lockSeries(tx.execute, kind);
    const series = orNotFound(before, `number series for ${kind}`);
    if (input.next < series.next) {
      throw fieldError('next', `must be at least ${series.next}: the numbers below it were given already`);
    }
    if (input.next > series.next && (await queries.readGaplessGiven(tx.execute, kind)) > 0)
      throw fieldError(
        'next',
        `must stay ${series.next}: the numbers of this series follow each other without a gap from the first one on`,
      );
    const holder = await queries.readSeriesByPrefix(tx.execute, input.prefix);
    if (holder !== null && holder.kind !== kind) {
      throw fieldError('prefix', `${input.prefix} is the prefix of ${holder.kind} numbers already`);
    }
    await queries.changeSeries(tx, { kind, ...input });
    await writeAudit(tx.execute, actor, {
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
