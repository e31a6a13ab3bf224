import { judgeCalibration } from '@huelot/calc';
import type { CalibrationPoint, InstrumentCalibration } from '@huelot/contracts';

/** Error of a point as a share of its tolerance, 1 at the limit; null where it was not read. */
export function shareOfTolerance(point: CalibrationPoint, which: 'asFound' | 'asLeft'): number | null {
  const reading = which === 'asLeft' ? (point.asLeft ?? point.asFound) : point.asFound;
  if (reading === null) return null;
  return judgeCalibration({ ...point, reading }).error / point.tolerance;
}

export const pointName = ({ reference, unit }: CalibrationPoint): string => `${reference} ${unit}`.trim();

/** The errors of each point over the calibrations that count: the six points that were read most often, the newest first among them. */
export function errorSeries(
  calibrations: readonly InstrumentCalibration[],
  which: 'asFound' | 'asLeft',
): { label: string; points: { x: number; y: number }[] }[] {
  const byPoint = new Map<string, { x: number; y: number }[]>();
  for (const { doneOn, points, replacedById } of calibrations.toReversed()) {
    if (replacedById !== null) continue;
    for (const point of points) {
      const share = shareOfTolerance(point, which);
      if (share === null) continue;
      const name = pointName(point);
      byPoint.set(name, [
        ...(byPoint.get(name) ?? []),
        { x: Date.parse(`${doneOn}T12:00:00Z`), y: share * 100 },
      ]);
    }
  }
  return [...byPoint]
    .map(([label, points]) => ({ label, points }))
    .toSorted((one, other) => other.points.length - one.points.length)
    .slice(0, 6);
}
