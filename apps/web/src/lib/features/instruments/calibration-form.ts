import type { InstrumentCalibration, NewInstrumentCalibration } from '@huelot/contracts';
import { format } from '$lib/format/format.ts';

export interface PointValues {
  reference: number | null;
  asFound: number | null;
  asLeft: number | null;
  tolerance: number | null;
  expandedUncertainty: number | null;
  unit: string;
}
export interface CalibrationValues extends Omit<
  NewInstrumentCalibration,
  'points' | 'nextDueOn' | 'replaces'
> {
  nextDueOn: string;
  points: PointValues[];
  reason: string;
}

const emptyPoint: PointValues = {
  ...{ reference: null, asFound: null, asLeft: null, tolerance: null, expandedUncertainty: null, unit: '' },
};

/** Another row like the one before it, without what was read. */
export const pointAfter = (point: PointValues | undefined): PointValues => ({
  ...emptyPoint,
  ...(point && {
    tolerance: point.tolerance,
    expandedUncertainty: point.expandedUncertainty,
    unit: point.unit,
  }),
});

/** A new calibration asks for the points of the last one; one that replaces another begins as that one is. */
export function startingValues({
  last,
  replaced,
}: {
  last: InstrumentCalibration | null;
  replaced: InstrumentCalibration | null;
}): CalibrationValues {
  return {
    doneOn: replaced?.doneOn ?? format.today(),
    nextDueOn: replaced?.nextDueOn ?? '',
    doneBy: last?.doneBy ?? '',
    certificateNumber: replaced?.certificateNumber ?? '',
    reference: last?.reference ?? '',
    referenceCertificate: last?.referenceCertificate ?? '',
    points: replaced?.points ??
      last?.points.map((point) => ({ ...point, asFound: null, asLeft: null })) ?? [emptyPoint],
    note: replaced?.note ?? '',
    fileId: replaced?.file?.id ?? null,
    reason: '',
  };
}

/** What is sent; what is missing goes as a figure that the server refuses by name. */
export const calibrationBody = (
  { reason, nextDueOn, points, ...values }: CalibrationValues,
  replacesId: number | null,
): NewInstrumentCalibration => ({
  ...values,
  nextDueOn: nextDueOn === '' ? null : nextDueOn,
  points: points.map((point) => ({
    ...point,
    reference: point.reference ?? Number.NaN,
    tolerance: point.tolerance ?? 0,
  })),
  replaces: replacesId === null ? null : { id: replacesId, reason },
});
