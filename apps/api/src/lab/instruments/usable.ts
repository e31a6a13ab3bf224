import type { SqlExecutor } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { readInstrument, type InstrumentRow } from './queries.ts';

/**
 * An instrument to measure with now. Refuses one that is not there, and one that failed its calibration: what it reads is worth
 * nothing until it passes again. One that is overdue may be used; what it reads says so.
 */
export async function usableInstrument(
  execute: SqlExecutor,
  { instrumentId, path }: { instrumentId: number; path: string },
): Promise<InstrumentRow> {
  const row = await readInstrument(execute, instrumentId);
  if (row === null) throw fieldError(path, `there is no instrument ${instrumentId}`);
  if (row.calibrationFailed)
    throw fieldError(path, `${row.code} failed its calibration: nothing is measured with it until it passes`);
  return row;
}
