import type { Calibration, CalibrationItem } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { readDrifts } from './drift.ts';
import * as queries from './queries.ts';

const iso = (date: Date | null) => date?.toISOString() ?? null;

/** How lists show calibrations, with whether each still holds. */
export async function toItems(
  execute: SqlExecutor,
  rows: readonly queries.CalibrationRow[],
): Promise<CalibrationItem[]> {
  const drifts = await readDrifts(execute, rows);
  return rows.map((row) => toItem(row, drifts.get(row.id)?.expiredAt ?? null));
}

function toItem(
  {
    coupons,
    counted: _counted,
    fit,
    authorId: _author,
    seriesIds: _series,
    calcVersion: _calc,
    writers: _writers,
    endedAt: _at,
    endReason: _why,
    ...head
  }: queries.CalibrationRow,
  expiredAt: string | null,
): CalibrationItem {
  const { lowestVoltageV, highestVoltageV, slopeNmPerV } = fit.growth;
  const rejectedCount = coupons.filter(({ rejected }) => rejected !== null).length;
  return {
    ...head,
    ...{ verdict: fit.verdict, residualDeltaE: fit.residualDeltaE, slopeNmPerV },
    ...{ lowestVoltageV, highestVoltageV },
    ...{ couponCount: coupons.length - rejectedCount, rejectedCount },
    expiredAt,
    createdAt: head.createdAt.toISOString(),
    approvedAt: iso(head.approvedAt),
  };
}

/** One revision, as its page shows it. */
export async function readCalibration(execute: SqlExecutor, id: number): Promise<Calibration> {
  const row = orNotFound(await queries.readRow(execute, id), `calibration ${id}`);
  const drifts = await readDrifts(execute, [row]);
  const { seriesIds, coupons, counted, fit, calcVersion, writers, endReason } = row;
  return {
    ...toItem(row, drifts.get(id)?.expiredAt ?? null),
    ...{ seriesIds, coupons, counted, fit, calcVersion, writers, endReason },
    endedAt: iso(row.endedAt),
    revisions: await queries.readRevisions(execute, row.code),
  };
}
