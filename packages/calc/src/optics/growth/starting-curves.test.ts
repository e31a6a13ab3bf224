import { describe, expect, it } from 'vitest';
import { eightRungs, exactCoupons, straight, titanium } from '../../../reference/optics/fitted-series.ts';
import { type TrueGrowth, trueThickness } from '../../../reference/optics/simulated-series.ts';
import { colourPathOf } from '../colour-path.ts';
import { isMonotonic, type CalibrationSeries, calibrationSeries, thicknessOn } from './calibration-series.ts';
import { startingCurves } from './starting-curves.ts';

const seriesOf = (growth: TrueGrowth, voltagesV: readonly number[] = eightRungs) =>
  calibrationSeries({
    coupons: exactCoupons(growth, voltagesV),
    path: colourPathOf(titanium),
    slopeNmPerV: { low: 1.05, high: 3.64 },
  });
/** Mean square dE00 at the nearest whole nanometre. */
const missOf = ({ points }: CalibrationSeries, curve: readonly number[]) =>
  points.reduce(
    (total, { voltageV, costs }) => total + (costs[Math.round(thicknessOn(curve, voltageV))] ?? NaN),
    0,
  );

const laws = {
  straight,
  'lossy in the bath': { offsetNm: -14, slopeNmPerV: 2.1, curvatureNmPerV2: 0 },
  'with a thick film to start with': { offsetNm: 30, slopeNmPerV: 1.9, curvatureNmPerV2: 0 },
  'as flat as is searched': { offsetNm: 2, slopeNmPerV: 1.1, curvatureNmPerV2: 0 },
  'as steep as is searched': { offsetNm: 2, slopeNmPerV: 3.6, curvatureNmPerV2: 0 },
};
describe.each(Object.entries(laws))('a straight series, %s', (_, law) => {
  const found = () => {
    const series = seriesOf(law);
    return { series, starts: startingCurves(series, 'straight') };
  };

  it('has a start near the truth at every point', () => {
    const near = found().starts.filter((curve) =>
      eightRungs.every(
        (voltageV) => Math.abs(thicknessOn(curve, voltageV) - trueThickness(law, voltageV)) < 6,
      ),
    );
    expect(near.length).toBeGreaterThan(0);
  });

  it('comes best first, and no neighbour on the grid is better', () => {
    const { series, starts } = found();
    const misses = starts.map((curve) => missOf(series, curve));
    expect(misses).toEqual(misses.toSorted((a, b) => a - b));
    // 4 nm of offset, and of thickness at the highest voltage.
    for (const [offset = NaN, slope = NaN] of starts.slice(0, 5)) {
      for (const [di, dj] of [
        [4, 0],
        [-4, 0],
        [0, 0.04],
        [0, -0.04],
        [4, -0.04],
        [-4, 0.04],
      ] as const) {
        if (offset + di < -16 || offset + di > 32 || slope + dj < 1.05 || slope + dj > 3.64) continue;
        expect(missOf(series, [offset + di, slope + dj])).toBeGreaterThanOrEqual(
          missOf(series, [offset, slope]) - 1e-9,
        );
      }
    }
  });
});

const bows = [
  { offsetNm: 2, slopeNmPerV: 2.5, curvatureNmPerV2: -0.0055 },
  { offsetNm: 2, slopeNmPerV: 1.6, curvatureNmPerV2: 0.006 },
];
describe.each(bows)('a series bowed by $curvatureNmPerV2 nm/V²', (law) => {
  const found = () => startingCurves(seriesOf(law), 'bowed');

  it('has a start near the truth at every point, among the best five', () => {
    const near = found()
      .slice(0, 5)
      .filter((curve) =>
        eightRungs.every(
          (voltageV) => Math.abs(thicknessOn(curve, voltageV) - trueThickness(law, voltageV)) < 6,
        ),
      );
    expect(near.length).toBeGreaterThan(0);
  });

  it('offers no curve that turns over', () => {
    expect(found().every((curve) => curve.length === 3 && isMonotonic(curve, 100))).toBe(true);
  });
});

it('a straight start has two coefficients, and no start is there twice', () => {
  const starts = startingCurves(seriesOf(straight, [20, 50, 90]), 'straight');
  expect(starts.every((curve) => curve.length === 2)).toBe(true);
  expect(new Set(starts.map(String)).size).toBe(starts.length);
});
