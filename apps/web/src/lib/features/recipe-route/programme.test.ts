import { describe, expect, it } from 'vitest';
import { averageLevel, densityCurve, programmeCorners } from './programme.ts';

const ramp = { kind: 'ramp', to: 28, seconds: 20 } as const;
const hold = { kind: 'hold', to: 28, seconds: 30 } as const;

describe('a programme as a line', () => {
  it('climbs from zero and stays', () => {
    expect(programmeCorners([ramp, hold])).toEqual([
      { x: 0, y: 0 },
      { x: 20, y: 28 },
      { x: 50, y: 28 },
    ]);
  });

  it('jumps where a hold is at another level', () => {
    expect(programmeCorners([{ ...hold, to: 12 }])).toEqual([
      { x: 0, y: 0 },
      { x: 0, y: 12 },
      { x: 30, y: 12 },
    ]);
  });

  it('averages a ramp as half its end, by the area of a triangle', () => {
    expect(averageLevel([ramp])).toBe(14);
    expect(averageLevel([ramp, hold])).toBeCloseTo((28 * 20) / 2 / 50 + (28 * 30) / 50, 12);
    expect(averageLevel([])).toBe(0);
  });
});

describe('the fall of the current', () => {
  const current = { peakCurrentDensityAPerM2: 200, steadyCurrentDensityAPerM2: 10, timeConstantS: 8 };

  it('stays where there is no fall', () => {
    const steady = { peakCurrentDensityAPerM2: 150, steadyCurrentDensityAPerM2: 150, timeConstantS: null };
    expect(densityCurve(steady, 100).every(({ y }) => y === 150)).toBe(true);
  });

  it('runs from the start to the end, never rising', () => {
    const curve = densityCurve(current, 75);
    expect([curve[0]?.x, curve.at(-1)?.x]).toEqual([0, 75]);
    expect(curve.every(({ y }, index) => index === 0 || y <= (curve[index - 1]?.y ?? 0))).toBe(true);
  });
});
