import { describe, expect, it } from 'vitest';
import { exactCoupons, straight, titanium } from '../../../reference/optics/fitted-series.ts';
import { deltaE2000 } from '../../colour/index.ts';
import { colourPathOf } from '../colour-path.ts';
import { isMonotonic, calibrationSeries, thicknessOn } from './calibration-series.ts';

describe('a growth curve', () => {
  it('never has less than no film', () => {
    expect(thicknessOn([-16, 2], 5)).toBe(0);
    expect(thicknessOn([2, 2.5, -0.005], 100)).toBeCloseTo(202, 9);
  });

  // The slope of s V + c V² is s at 0 V and s + 2 c V at V; its mean up to V is s + c V.
  it.each([
    ['straight', [0, 2], true],
    ['flattening to half its mean slope', [0, 3, -0.01], true],
    ['flattening to just above 0.3 of its mean slope', [0, 3, -0.0123], true],
    ['flattening to just under 0.3 of its mean slope', [0, 3, -0.0125], false],
    ['starting at just above 0.3 of its mean slope', [0, 0.87, 0.02], true],
    ['starting at just under 0.3 of its mean slope', [0, 0.85, 0.02], false],
    ['turning over before the highest coupon', [0, 2, -0.015], false],
    ['falling from the start', [0, -0.1, 0.02], false],
    ['falling all the way', [200, -1, 0], false],
    ['level', [50, 0, 0], false],
  ])('%s: only thickens: %s → %s', (_, coefficients, only) => {
    expect(isMonotonic(coefficients, 100)).toBe(only);
  });
});

it('a point knows its distance from every colour of the film, by whole nanometres', () => {
  const path = colourPathOf(titanium);
  const coupons = exactCoupons(straight, [10, 40]);
  const series = calibrationSeries({ coupons, path, slopeNmPerV: { low: 1, high: 2.8 } });
  expect(series).toMatchObject({ topVoltageV: 40, thickestNm: 212 });
  for (const [i, { voltageV, lab, costs }] of series.points.entries()) {
    expect(voltageV).toBe(coupons[i]?.voltageV);
    expect(costs).toHaveLength(213);
    for (const nm of [0, 24, 100, 212])
      expect(Math.sqrt(costs[nm] ?? NaN)).toBeCloseTo(deltaE2000(lab, titanium.labAt(nm)), 2);
  }
  // 3 nm and 2.1 nm/V make 24 and 87 nm.
  expect(series.points.map(({ costs }) => costs.indexOf(Math.min(...costs)))).toEqual([24, 87]);
});
