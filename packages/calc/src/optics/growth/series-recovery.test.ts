import { describe, expect, it } from 'vitest';
import { eightRungs, fitSimulatedSeries } from '../../../reference/optics/fitted-series.ts';
import { trueThickness } from '../../../reference/optics/simulated-series.ts';
import { type ConstantSetName, constantSets } from '../constant-sets.ts';
import { titaniumSystem } from '../systems.ts';

/** Simulations take seconds, on a busy machine more; nothing here is timed. */
const PATIENCE_MS = 120_000;

describe(
  'how often simulated series are read rightly (seeded; thickness scatters by 0.5 nm, colour by 0.4)',
  { timeout: PATIENCE_MS },
  () => {
    it('eight points: always the right orders, thickness to 0.5 nm, intervals that hold', () => {
      const result = fitSimulatedSeries({ series: 60, seed: 1, voltagesV: () => eightRungs });
      expect(result.ordersRight).toBe(1);
      expect(result.good).toBeGreaterThanOrEqual(0.98);
      expect(result.offNm).toBeLessThan(0.5);
      expect(result.curved).toBeLessThanOrEqual(0.04);
      expect(result.slopeCovered).toBeGreaterThanOrEqual(0.89);
      expect(result.offsetCovered).toBeGreaterThanOrEqual(0.89);
    });

    it('colours known only to 1.5: still the right orders', () => {
      const result = fitSimulatedSeries({
        series: 50,
        seed: 2,
        voltagesV: () => eightRungs,
        colourSd: 1.5,
      });
      expect(result.ordersRight).toBe(1);
      expect(result.slopeCovered).toBeGreaterThanOrEqual(0.86);
    });

    it('thicknesses that scatter by 1.5 nm: right orders, and intervals that widen with them', () => {
      const result = fitSimulatedSeries({
        series: 60,
        seed: 3,
        voltagesV: () => eightRungs,
        thicknessSdNm: 1.5,
      });
      expect(result.ordersRight).toBe(1);
      expect(result.slopeCovered).toBeGreaterThanOrEqual(0.89);
    });

    it('three to six points anywhere between 10 and 100 V', () => {
      const result = fitSimulatedSeries({
        series: 60,
        seed: 4,
        voltagesV: (random) =>
          [10, 20, 30, 40, 50, 60, 70, 80, 90, 100]
            .map((voltageV) => ({ voltageV, drawn: random.uniform() }))
            .sort((a, b) => a.drawn - b.drawn)
            .slice(0, Math.floor(random.uniform(3, 7)))
            .map(({ voltageV }) => voltageV),
      });
      expect(result.ordersRight).toBeGreaterThanOrEqual(0.95);
      const misread = result.runs.filter(
        ({ growth, fit }) =>
          fit.verdict === 'good' &&
          fit.coupons.some(
            (coupon) => Math.abs(coupon.thicknessNm - trueThickness(growth, coupon.voltageV)) >= 20,
          ),
      );
      expect(misread.length).toBeLessThanOrEqual(2);
    });

    it('a series with its middle missing', () => {
      const result = fitSimulatedSeries({
        series: 50,
        seed: 5,
        voltagesV: () => [10, 15, 20, 80, 90, 100],
      });
      expect(result.ordersRight).toBeGreaterThanOrEqual(0.98);
    });

    it('growth that falls off with voltage', () => {
      const result = fitSimulatedSeries({
        series: 50,
        seed: 6,
        voltagesV: () => eightRungs,
        slopes: [2.2, 2.7],
        curvatureNmPerV2: -0.005,
      });
      expect(result.ordersRight).toBe(1);
      expect(result.curved).toBe(1);
      expect(result.good).toBeGreaterThanOrEqual(0.98);
    });

    it.each([
      ['niobium', [2.3, 3.6]],
      ['tantalum', [1.6, 1.9]],
      ['zirconium', [2, 2.7]],
    ] as const)('%s', (system, [low, high]) => {
      const result = fitSimulatedSeries({
        series: 30,
        seed: 7,
        voltagesV: () => eightRungs,
        truth: system,
        fitted: system,
        slopes: [low, high],
      });
      expect(result.ordersRight).toBe(1);
      expect(result.good).toBeGreaterThanOrEqual(0.96);
      expect(result.offNm).toBeLessThan(0.6);
    });
  },
);

describe('wrong constants', { timeout: PATIENCE_MS }, () => {
  const sets = (film: ConstantSetName, substrate: ConstantSetName) => ({ film, substrate });

  it('another metal than the one measured is refused as a calibration', () => {
    for (const [substrate, share] of [
      ['Ti_LynchHandbook', 0.9],
      ['Ti_Palm2018', 1],
    ] as const) {
      const result = fitSimulatedSeries({
        series: 40,
        seed: 8,
        voltagesV: () => eightRungs,
        truth: sets('TiO2_Franta2015', substrate),
      });
      expect(result.wrong).toBeGreaterThanOrEqual(share);
    }
  });

  it('another oxide is not told apart: its index goes into the slope, which holds only with its set', () => {
    const result = fitSimulatedSeries({
      series: 40,
      seed: 9,
      voltagesV: () => eightRungs,
      truth: sets('TiO2_Siefke2016', 'Ti_Johnson1974'),
    });
    expect(result.good).toBeGreaterThanOrEqual(0.95);
    expect(result.slopeCovered).toBeLessThan(0.1);
    // The denser oxide has an index 4 % higher: it shows the colours of 4 % more of the lighter one.
    const indexRatio = (constantSets.TiO2_Siefke2016.n[34] ?? NaN) / (titaniumSystem.film.n[34] ?? NaN);
    expect(result.slopeRatio).toBeCloseTo(indexRatio, 2);
  });
});

describe('alternatives', { timeout: PATIENCE_MS }, () => {
  it('far up the orders colours fade: three coupons cannot tell them apart, and the verdict says so', () => {
    const result = fitSimulatedSeries({
      series: 30,
      seed: 10,
      voltagesV: () => [400, 420, 440],
      slopes: [2, 2.2],
    });
    const uncertain = result.runs.filter(({ fit }) => fit.verdict === 'order uncertain');
    expect(uncertain.length).toBeGreaterThan(15);
    for (const { fit } of uncertain) expect(fit.alternatives[0]?.residualDeltaE).toBeLessThan(2.5);
    const misreadYetGood = result.runs.filter(({ growth, fit }) => {
      const top = fit.coupons.at(-1)?.thicknessNm ?? NaN;
      return fit.verdict === 'good' && Math.abs(top - trueThickness(growth, 440)) > 30;
    });
    expect(misreadYetGood).toEqual([]);
  });
});
