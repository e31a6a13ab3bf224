import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { lockBath, readBath, type BathRow } from './queries.ts';

/**
 * A bath that stands in its tank, locked until the transaction ends.
 *
 * @example
 * const bath = await openBath(tx.run, bathId);
 */
export async function openBath(execute: SqlExecutor, id: number): Promise<BathRow> {
  await lockBath(execute, id);
  const bath = orNotFound(await readBath(execute, id), `bath ${id}`);
  if (bath.dumpedAt !== null)
    throw new DomainError(
      'immutable',
      `${bath.number} was dumped: its record is closed. A new bath starts a new one.`,
    );
  return bath;
}
