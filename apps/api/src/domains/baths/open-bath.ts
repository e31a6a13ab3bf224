import type { Run } from '../../db/client.ts';
import { found, Refusal } from '../../refusal.ts';
import { lockBath, readBath, type BathRow } from './queries.ts';

/**
 * A bath that stands in its tank, locked until the transaction ends.
 *
 * @example
 * const bath = await openBath(tx.run, bathId);
 */
export async function openBath(run: Run, id: number): Promise<BathRow> {
  await lockBath(run, id);
  const bath = found(await readBath(run, id), `bath ${id}`);
  if (bath.dumpedAt !== null)
    throw new Refusal(
      'frozen',
      `${bath.number} was dumped: its record is closed. A new fill starts a new one.`,
    );
  return bath;
}
