import { describe, expect, it } from 'vitest';
import { sealLoss, type SealTest } from './seal-loss.ts';

const test = (extra: Partial<SealTest> = {}): SealTest => ({
  ...{ massBeforeG: 27.2154, massAfterG: 27.1954, weighingUncertaintyG: 0.0001, areaMm2: 10_000 },
  ...{ areaUncertaintyMm2: 100, acidTemperatureC: 38, immersionMin: 15 },
  ...extra,
});

describe('the loss of a seal in acid', () => {
  it('is 20 mg of one square decimetre, hand-worked: 0.1414 of weighing and 0.2 of area', () => {
    const { lossMgPerDm2, standardUncertaintyMgPerDm2, verdict } = sealLoss(test());
    expect(lossMgPerDm2).toBeCloseTo(20, 8);
    expect(standardUncertaintyMgPerDm2).toBeCloseTo(Math.hypot(0.1 * Math.SQRT2, 0.2), 8);
    expect(verdict).toBe('pass');
  });

  it.each([
    [27.1861, 'pass'],
    [27.1857, 'warn'],
    [27.1855, 'warn'],
    [27.1853, 'hold'],
  ])(
    'of a piece that weighs %d g after it: %s, against 30 mg/dm² (ISO 7599, from memory)',
    (massAfterG, verdict) => {
      expect(sealLoss(test({ massAfterG })).verdict).toBe(verdict);
    },
  );

  it('says that the limit is of 15 minutes at 38 °C (ISO 3210, from memory)', () => {
    expect(sealLoss(test({ acidTemperatureC: 39 })).flags).toEqual([]);
    for (const other of [{ acidTemperatureC: 25 }, { immersionMin: 5 }])
      expect(sealLoss(test(other)).flags.join()).toContain('another test');
  });

  it('is refused for a piece that got heavier, milligrams as grams, an area in square centimetres', () => {
    for (const [wrong, argument] of [
      [{ massAfterG: 27.22 }, 'massAfterG'],
      [{ massBeforeG: 47.2154 }, 'massAfterG'],
      [{ areaMm2: 50 }, 'areaMm2'],
      [{ immersionMin: 900 }, 'immersionMin'],
    ] as const)
      expect(() => sealLoss(test(wrong))).toThrow(argument);
  });
});
