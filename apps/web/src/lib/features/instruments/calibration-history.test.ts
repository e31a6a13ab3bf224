import type { InstrumentCalibration } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { errorSeries } from './calibration-history.ts';

const calibration = (doneOn: string, asFound: number | null, more: object = {}) =>
  ({
    ...{ doneOn, replacedById: null },
    points: [{ reference: 60, asFound, asLeft: 60, tolerance: 2, expandedUncertainty: null, unit: '°C' }],
    ...more,
  }) as InstrumentCalibration;

it('a calibration that was replaced, or not read as found, stood in the picture', () => {
  const shown = errorSeries(
    [
      calibration('2026-03-01', 63),
      calibration('2026-02-01', 90, { replacedById: 7 }),
      calibration('2026-01-01', null),
      calibration('2025-03-01', 59),
    ],
    'asFound',
  );
  expect(shown).toEqual([
    {
      label: '60 °C',
      points: [
        { x: Date.parse('2025-03-01T12:00:00Z'), y: -50 },
        { x: Date.parse('2026-03-01T12:00:00Z'), y: 150 },
      ],
    },
  ]);
});
