import type { SqlExecutor } from '../../db/client.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { usableInstrument } from '../../lab/instruments/index.ts';

/**
 * What a reading was measured with, as it is called now, and whether its calibration is overdue today: that stays with the reading
 * whatever is calibrated later. Refuses what is no colour meter of the lab in use, and one that failed its calibration.
 */
export async function instrumentOf(
  execute: SqlExecutor,
  { instrumentId, instrument = '' }: { instrumentId: number | null; instrument?: string },
  path: string,
): Promise<{ instrumentId: number | null; instrument: string; instrumentOverdue: boolean }> {
  if (instrumentId === null)
    return { instrumentId: null, instrument: instrument.trim(), instrumentOverdue: false };
  const meter = await usableInstrument(execute, { instrumentId, path });
  if (meter.kind !== 'colour-meter') throw fieldError(path, `${meter.code} is no colour meter`);
  if (meter.archivedAt !== null) throw fieldError(path, `${meter.code} is not in use any more`);
  return {
    instrumentId,
    instrument: `${meter.code} ${meter.name}`,
    instrumentOverdue: meter.calibrationOverdue,
  };
}
