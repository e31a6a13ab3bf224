import { describe, expect, it } from 'vitest';
import { growth } from '../../../reference/optics/titanium-growth.ts';
import { ciede2000 } from '../../colour/delta-e.ts';
import { colourDips, voltageColours } from './colour-dips.ts';
import { thicknessOf } from './growth.ts';
import { matchColour } from './match-colour.ts';
import { thicknessFromVoltage } from './thickness-from-voltage.ts';
import { voltageWindow } from './voltage-window.ts';

const flattening = { ...growth, offsetNm: 2, slopeNmPerV: 2.6, curvatureNmPerV2: -0.006 };
const steepening = { ...growth, offsetNm: 2, slopeNmPerV: 1.2, curvatureNmPerV2: 0.008 };

describe('the step between two looks', () => {
  // One nanometre of film where it grows fastest: slope + 2 curvature V at 10 or 100 V.
  it.each([
    ['straight', { ...growth, slopeNmPerV: 2.5, curvatureNmPerV2: 0 }, 1 / 2.5],
    ['flattening', flattening, 1 / (2.6 - 0.12)],
    ['steepening', steepening, 1 / (1.2 + 1.6)],
    ['hardly growing, a quarter of the range', { ...growth, slopeNmPerV: 0.02, curvatureNmPerV2: 0 }, 22.5],
    ['a short range, a quarter of it', { ...growth, lowestVoltageV: 50, highestVoltageV: 51 }, 0.25],
  ])('%s', (_, law, stepV) => {
    expect(voltageColours(law).stepV).toBeCloseTo(stepV, 9);
  });
});

describe.each([
  ['straight', growth],
  ['flattening', flattening],
  ['steepening', steepening],
] as const)('%s growth', (_, law) => {
  const colours = voltageColours(law);

  it('finds the voltage that made a colour, wherever it lies', () => {
    for (const voltageV of [10, 10.3, 23.7, 41, 64.2, 88.8, 99.9, 100]) {
      const dips = colourDips(colours, colours.labAt(voltageV));
      const found = dips.filter((dip) => Math.abs(dip.voltageV - voltageV) < 0.02);
      expect(found, `${voltageV} V`).toHaveLength(1);
      expect(found[0]?.deltaE).toBeLessThan(0.05);
      expect(found[0]?.atRangeEnd).toBe(voltageV === 10 || voltageV === 100);
    }
  });

  it('every dip is lower than what lies a step to either side, and they come by voltage', () => {
    const target = colours.labAt(47);
    const dips = colourDips(colours, target);
    expect(dips.length).toBeGreaterThan(1);
    expect(dips.map(({ voltageV }) => voltageV)).toEqual(
      dips.map(({ voltageV }) => voltageV).toSorted((a, b) => a - b),
    );
    for (const { voltageV, deltaE } of dips)
      for (const beside of [voltageV - colours.stepV, voltageV + colours.stepV])
        if (beside >= 10 && beside <= 100)
          expect(ciede2000(target, colours.labAt(beside))).toBeGreaterThan(deltaE);
  });

  it('a match tells how fast its colour runs, and how far its voltage is off, at its own slope', () => {
    const uncertainty = {
      covariance: [
        [0.25, 0],
        [0, 0],
      ],
      degreesOfFreedom: 6,
    };
    const target = colours.labAt(64.2);
    const { candidates } = matchColour({ target, growth: { ...law, uncertainty }, coupons: [] });
    const match = candidates.find(({ deltaE }) => deltaE < 0.05);
    const { slopeNmPerV, curvatureNmPerV2 } = law;
    const slope = slopeNmPerV + 2 * curvatureNmPerV2 * 64.2;
    // Half an interval of 0.5 nm times t(0.975, 6) = 2.4469 (Student).
    expect(match?.uncertaintyV).toBeCloseTo((2.4469 * 0.5) / slope, 3);
    expect(match?.thicknessNm).toBeCloseTo(
      thicknessFromVoltage({ growth: law, voltageV: 64.2 }).thicknessNm,
      1,
    );
    const run = ciede2000(colours.labAt(64.1), colours.labAt(64.3)) / 0.2;
    expect(match?.steepnessDeltaEPerV).toBeCloseTo(run, 1);
  });
});

it('a law with curvature thickens by it', () => {
  expect(thicknessOf(flattening, 50)).toBeCloseTo(2 + 130 - 15, 9);
  expect(thicknessOf(steepening, 50)).toBeCloseTo(2 + 60 + 20, 9);
  expect(thicknessOf({ ...growth, offsetNm: -30, slopeNmPerV: 2, curvatureNmPerV2: 0 }, 10)).toBe(0);
});

describe('a window of voltage', () => {
  it.each([
    ['the first', { L: 30, a: 0, b: 0 }, [15.46, 20.01], 15.46],
    ['the last', { L: 50, a: 0, b: 0 }, [10, 14.41, 24.65], 24.65],
  ])(
    'dips between which the colour never fails share one stretch, told by the best: %s',
    (...[, target, volts, best]) => {
      const dips = colourDips(voltageColours(growth), target).filter(({ voltageV }) => voltageV < 50);
      for (const [i, voltageV] of volts.entries()) expect(dips[i]?.voltageV).toBeCloseTo(voltageV, 1);
      const { stretches } = voltageWindow({ target, toleranceDeltaE: 30, growth });
      const shared = stretches.filter(({ lowestVoltageV }) => lowestVoltageV < 50);
      expect(shared).toHaveLength(1);
      expect(shared[0]?.bestVoltageV).toBeCloseTo(best, 1);
      expect(shared[0]?.deltaE).toBeCloseTo(Math.min(...dips.map(({ deltaE }) => deltaE)), 9);
      for (const voltageV of volts) {
        expect(shared[0]?.lowestVoltageV).toBeLessThanOrEqual(voltageV);
        expect(shared[0]?.highestVoltageV).toBeGreaterThan(voltageV);
      }
    },
  );

  it('cut off at the lower coupons it says so too, and not when nothing cuts it', () => {
    const at = (voltageV: number) =>
      voltageWindow({ target: voltageColours(growth).labAt(voltageV), toleranceDeltaE: 4, growth });
    expect(at(10.4).stretches[0]?.endsWithCoupons).toBe(true);
    expect(at(10.4).lowestVoltageV).toBe(10);
    expect(at(10.4).flags.join()).toMatch(/cut off/);
    expect(at(22).stretches[0]?.endsWithCoupons).toBe(false);
    expect(at(22).flags).toEqual([]);
  });

  it('a law known more exactly than the window is wide says nothing', () => {
    const sure = {
      ...growth,
      uncertainty: {
        covariance: [
          [1e-6, 0],
          [0, 0],
        ],
        degreesOfFreedom: 6,
      },
    };
    const target = voltageColours(growth).labAt(22);
    const window = voltageWindow({ target, toleranceDeltaE: 2, growth: sure });
    expect(window.stretches[0]?.uncertaintyV).toBeGreaterThan(0);
    expect(window.flags).toEqual([]);
  });
});
