import { describe, expect, it } from 'vitest';
import { growth } from '../../../reference/optics/titanium-growth.ts';
import { nominalGrowth } from './nominal-growth.ts';
import { thicknessFromVoltage } from './thickness-from-voltage.ts';

describe('growth laws', () => {
  it('pitfall 14: outside the coupons a thickness is flagged, never silent', () => {
    expect(thicknessFromVoltage({ growth, voltageV: 100 }).flags).toEqual([]);
    for (const voltageV of [9.9, 100.1]) {
      expect(thicknessFromVoltage({ growth, voltageV }).flags.join()).toMatch(
        /outside the range of 10 to 100 V/,
      );
    }
    expect(() => thicknessFromVoltage({ growth, voltageV: -1 })).toThrow(
      expect.objectContaining({ code: 'out-of-range' }),
    );
  });

  it('the interval of a thickness is that of a regression: narrow among the coupons, wide beyond', () => {
    // Straight line with variances 1 and 0.0004 and covariance -0.018; t(0.975, 6) = 2.4469 (Student).
    const uncertainty = {
      covariance: [
        [1, -0.018],
        [-0.018, 0.0004],
      ],
      degreesOfFreedom: 6,
    };
    const half = (voltageV: number) => {
      const { intervalNm } = thicknessFromVoltage({ growth: { ...growth, uncertainty }, voltageV });
      return ((intervalNm?.high ?? NaN) - (intervalNm?.low ?? NaN)) / 2;
    };
    expect(half(45)).toBeCloseTo(2.4469 * Math.sqrt(1 - 2 * 0.018 * 45 + 0.0004 * 45 ** 2), 3);
    expect(half(45)).toBeLessThan(half(10));
    expect(half(45)).toBeLessThan(half(100));
  });

  it.each([
    { system: 'titanium', slopeNmPerV: 2.2, offsetNm: 2, highestVoltageV: 140 },
    { system: 'niobium', slopeNmPerV: 3, offsetNm: 2, highestVoltageV: 65 },
    { system: 'tantalum', slopeNmPerV: 1.75, offsetNm: 3.3, highestVoltageV: 100 },
    { system: 'zirconium', slopeNmPerV: 2.35, offsetNm: 2, highestVoltageV: 30 },
  ] as const)(
    '$system starts from published figures',
    ({ system, slopeNmPerV, offsetNm, highestVoltageV }) => {
      const nominal = nominalGrowth({ system });
      expect(nominal).toMatchObject({ offsetNm, highestVoltageV, regime: null, uncertainty: null });
      expect(nominal.slopeNmPerV).toBeCloseTo(slopeNmPerV, 9);
      expect(thicknessFromVoltage({ growth: nominal, voltageV: 10 }).flags.join()).toMatch(/published ratio/);
    },
  );

  it('there is none for steel or aluminium: their films follow charge and time', () => {
    for (const system of ['steel', 'aluminium'] as const) {
      expect(() => nominalGrowth({ system })).toThrow(
        expect.objectContaining({ argument: 'system', code: 'impossible' }),
      );
    }
  });
});
