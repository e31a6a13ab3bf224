import { lawDrift } from '@huelot/calc';
import type { CalibrationDrift } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { type MeasuredRow, readMeasured } from './drift-queries.ts';
import { asGrowth } from './law.ts';
import type { CalibrationRow } from './queries.ts';

/** The voltage that was read at the tank, else the one that the step asked for. */
function voltageOf({ voltageV, step }: MeasuredRow): number | null {
  if (voltageV !== null || step === null) return voltageV;
  const { settings, electrical } = step;
  const held = electrical?.mode === 'voltage' ? electrical.programme.at(-1)?.to : undefined;
  return settings.find(({ quantity }) => quantity === 'voltageV')?.target ?? held ?? null;
}

/** What was measured since calibrations were approved, against their laws, by their ids. Of a draft there is nothing. */
export async function readDrifts(
  execute: SqlExecutor,
  calibrations: readonly CalibrationRow[],
): Promise<Map<number, CalibrationDrift>> {
  const ids = calibrations.filter(({ approvedAt }) => approvedAt !== null).map(({ id }) => id);
  const rows = ids.length === 0 ? [] : await readMeasured(execute, ids);
  return new Map(
    calibrations.map((calibration) => {
      const measured = rows.flatMap((row) => {
        const voltageV = row.calibrationId === calibration.id ? voltageOf(row) : null;
        return voltageV === null ? [] : [{ ...row, voltageV }];
      });
      return [calibration.id, driftOf(calibration, measured)];
    }),
  );
}

function driftOf(
  { fit, endedAt }: CalibrationRow,
  all: readonly (MeasuredRow & { voltageV: number })[],
): CalibrationDrift {
  // What came after its end says nothing about it.
  const measured = all.filter(({ at }) => endedAt === null || at <= endedAt);
  const { points, limits, expiredAt } = lawDrift({ growth: asGrowth(fit.growth), points: measured });
  return {
    points: measured.map(({ at, source, label, recordId, voltageV, lab }, index) => ({
      ...{ at: at.toISOString(), source, label, recordId, voltageV, lab },
      deltaE: points[index]?.deltaE ?? null,
      sum: points[index]?.sum ?? 0,
    })),
    limits,
    expiredAt: expiredAt === null ? null : (measured[expiredAt]?.at.toISOString() ?? null),
  };
}
