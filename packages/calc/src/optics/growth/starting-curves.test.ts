import { describe, expect, it } from 'vitest';
import { eightRungs, exactLadder, straight, titanium } from '../../../reference/optics/fitted-ladders.ts';
import { type TrueGrowth, trueThickness } from '../../../reference/optics/simulated-ladder.ts';
import { colourPathOf } from '../colour-path.ts';
import { isMonotonic, type Ladder, makeLadder, thicknessOn } from './ladder.ts';
import { startingCurves } from './starting-curves.ts';

const ladderOf = (growth: TrueGrowth, voltagesV: readonly number[] = eightRungs) =>
  makeLadder({
    coupons: exactLadder(growth, voltagesV),
    path: colourPathOf(titanium),
    slopeNmPerV: { low: 1.05, high: 3.64 },
  });
/** Mean square dE00 at the nearest whole nanometre. */
const missOf = ({ rungs }: Ladder, curve: readonly number[]) =>
  rungs.reduce(
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
describe.each(Object.entries(laws))('a straight ladder, %s', (_, law) => {
  const found = () => {
    const ladder = ladderOf(law);
    return { ladder, starts: startingCurves(ladder, 'straight') };
  };

  it('has a start near the truth at every rung', () => {
    const near = found().starts.filter((curve) =>
      eightRungs.every(
        (voltageV) => Math.abs(thicknessOn(curve, voltageV) - trueThickness(law, voltageV)) < 6,
      ),
    );
    expect(near.length).toBeGreaterThan(0);
  });

  it('comes best first, and no neighbour on the grid is better', () => {
    const { ladder, starts } = found();
    const misses = starts.map((curve) => missOf(ladder, curve));
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
        expect(missOf(ladder, [offset + di, slope + dj])).toBeGreaterThanOrEqual(
          missOf(ladder, [offset, slope]) - 1e-9,
        );
      }
    }
  });
});

const bows = [
  { offsetNm: 2, slopeNmPerV: 2.5, curvatureNmPerV2: -0.0055 },
  { offsetNm: 2, slopeNmPerV: 1.6, curvatureNmPerV2: 0.006 },
];
describe.each(bows)('a ladder bowed by $curvatureNmPerV2 nm/V²', (law) => {
  const found = () => startingCurves(ladderOf(law), 'bowed');

  it('has a start near the truth at every rung, among the best five', () => {
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
  const starts = startingCurves(ladderOf(straight, [20, 50, 90]), 'straight');
  expect(starts.every((curve) => curve.length === 2)).toBe(true);
  expect(new Set(starts.map(String)).size).toBe(starts.length);
});
