import { boxShare } from '@huelot/calc';
import type { ProcessMap } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { axesOf, boxOf, frameOf, settingOf, toMapTrial } from './map-axes.ts';

const trial = (temperatureC: number, voltageV: number | null) =>
  ({
    ...{ mark: '', temperatureC, voltageV, timeS: 480, strength: 0.5, coatingThicknessUm: null, pH: null },
    ...{ currentDensityAPerM2: null, outcome: 'interference', protects: null, grade: 'photo', seriesId: 1 },
    lab: { L: 40, a: 5, b: -30 },
  }) as unknown as ProcessMap['trials'][number];
const map = (trials: ProcessMap['trials'], contents = 'hot-caustic') =>
  ({ contents, unit: 'massFraction', trials }) as unknown as ProcessMap;
const tried = [trial(48, 2), trial(52, 2.2), trial(56, 2.4)];

describe('the axes of a map', () => {
  it('hold the ground that all maps cover together, with the units of who reads', () => {
    const axes = axesOf([map(tried), map([trial(70, 2.2)])], 'us');
    expect(axes.map(({ label }) => label)).toEqual([
      'Temperature (°F)',
      'Cell voltage (V)',
      'Time (min)',
      'Concentration (wt%)',
    ]);
    expect(axes[0]?.low).toBeLessThan(48);
    expect(axes[0]?.high).toBeGreaterThan(70);
  });

  it('leave out what no trial states, as the voltage of a dye', () => {
    const dyed = { ...trial(50, null), coatingThicknessUm: 12, pH: 5.5 } as ProcessMap['trials'][number];
    expect(axesOf([map([dyed], 'dye')], 'metric').map(({ factor }) => factor)).toEqual([
      ...['coatingThicknessUm', 'temperatureC', 'timeS', 'strength', 'pH'],
    ]);
  });

  it('have room beside a single trial, and never reach below nothing', () => {
    for (const { low, high, factor } of axesOf([map([trial(50, 0.01)])], 'metric')) {
      expect(high, factor).toBeGreaterThan(low);
      if (factor !== 'temperatureC') expect(low, factor).toBeGreaterThan(0);
    }
  });
});

describe('a box on a map', () => {
  const axes = axesOf([map(tried)], 'metric');
  const limits = { temperatureC: { low: 50, high: 54 }, voltageV: null, timeS: 480 };

  it('lets the voltage be anywhere on the ground where a recipe leaves it open', () => {
    const voltage = axes.find(({ factor }) => factor === 'voltageV');
    expect(boxOf(limits, axes)).toMatchObject({
      ...{ temperatureC: limits.temperatureC, voltageV: { low: voltage?.low, high: voltage?.high } },
      ...{ timeS: 480, strength: 0.5 },
    });
  });

  it('is a box that calc takes, and so is the frame', () => {
    const [x, y] = [axes[1], axes[0]];
    if (x === undefined || y === undefined) throw new Error('no axes');
    for (const box of [boxOf(limits, axes), frameOf(settingOf(axes, {}), [x, y])]) {
      const { wanted, other, unsettled } = boxShare({
        trials: tried.map(toMapTrial),
        target: 0.5,
        box,
        wanted: 'interference',
      });
      expect(wanted + other + unsettled).toBeCloseTo(1, 12);
      expect(wanted).toBeGreaterThan(0.2);
    }
  });
});
