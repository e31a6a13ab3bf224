import { describe, expect, it } from 'vitest';
import { seeded } from '../../../reference/optics/seeded.ts';
import {
  simulatedLadder,
  type TrueGrowth,
  trueThickness,
} from '../../../reference/optics/simulated-ladder.ts';
import { type ConstantSetName, constantSets } from '../constant-sets.ts';
import { filmModel } from '../film-model.ts';
import { resolveSystem, type System } from '../resolve-system.ts';
import { titaniumSystem } from '../systems.ts';
import { fitFilmGrowth, type GrowthFit } from './fit-film-growth.ts';
import type { GrowthRegime } from './growth.ts';

const regime: GrowthRegime = {
  alloy: 'titanium grade 2',
  preparation: 'polished',
  bath: 'trisodium phosphate 50 g/L',
  temperatureC: 22,
  holdS: 30,
};
const eightRungs = [10, 20, 30, 40, 50, 65, 80, 100];
/** Simulations take seconds, on a busy machine more; nothing here is timed. */
const PATIENCE_MS = 120_000;
const straight = { offsetNm: 3, slopeNmPerV: 2.1, curvatureNmPerV2: 0 };
const titanium = filmModel(titaniumSystem);

const exact = (growth: TrueGrowth, voltagesV: readonly number[]) =>
  simulatedLadder({ model: titanium, growth, voltagesV, random: seeded(0), thicknessSdNm: 0, colourSd: 0 });

/** Fits many simulated ladders and says how often each thing holds. */
function simulate(of: {
  ladders: number;
  seed: number;
  voltagesV: (random: ReturnType<typeof seeded>) => readonly number[];
  truth?: System;
  fitted?: System;
  slopes?: [number, number];
  curvatureNmPerV2?: number;
  thicknessSdNm?: number;
  colourSd?: number;
}) {
  const random = seeded(of.seed);
  const model = filmModel(resolveSystem(of.truth ?? 'titanium'));
  const runs = Array.from({ length: of.ladders }, () => {
    const [low, high] = of.slopes ?? [1.7, 2.6];
    const growth = {
      offsetNm: random.uniform(1, 5),
      slopeNmPerV: random.uniform(low, high),
      curvatureNmPerV2: of.curvatureNmPerV2 ?? 0,
    };
    const { thicknessSdNm = 0.5, colourSd = 0.4 } = of;
    const coupons = simulatedLadder({
      model,
      growth,
      voltagesV: of.voltagesV(random),
      random,
      thicknessSdNm,
      colourSd,
    });
    return { growth, fit: fitFilmGrowth({ coupons, system: of.fitted ?? 'titanium', regime }) };
  });
  const share = (holds: (run: { growth: TrueGrowth; fit: GrowthFit }) => boolean) =>
    runs.filter(holds).length / runs.length;
  return {
    ordersRight: share(({ growth, fit }) =>
      fit.coupons.every(
        (coupon) => Math.abs(coupon.thicknessNm - trueThickness(growth, coupon.voltageV)) < 20,
      ),
    ),
    good: share(({ fit }) => fit.verdict === 'good'),
    wrong: share(({ fit }) => fit.verdict === 'wrong constants or surface'),
    curved: share(({ fit }) => fit.growth.curvatureNmPerV2 !== 0),
    slopeCovered: share(({ growth, fit }) => within(fit.intervals?.slopeNmPerV, growth.slopeNmPerV)),
    offsetCovered: share(({ growth, fit }) => within(fit.intervals?.offsetNm, growth.offsetNm)),
    /** Root mean square error of the fitted thickness of a coupon. */
    offNm: Math.sqrt(
      mean(
        runs.flatMap(({ growth, fit }) =>
          fit.coupons.map((coupon) => (coupon.thicknessNm - trueThickness(growth, coupon.voltageV)) ** 2),
        ),
      ),
    ),
    /** Fitted over true slope. */
    slopeRatio: mean(runs.map(({ growth, fit }) => fit.growth.slopeNmPerV / growth.slopeNmPerV)),
    runs,
  };
}

const mean = (values: readonly number[]): number =>
  values.reduce((total, value) => total + value, 0) / values.length;

const within = (interval: { low: number; high: number } | undefined, value: number): boolean =>
  interval !== undefined && interval.low <= value && value <= interval.high;

describe('a ladder without noise', () => {
  it('gives back what made it, orders and all', () => {
    const { growth, coupons, ...fit } = fitFilmGrowth({
      coupons: exact(straight, eightRungs),
      system: 'titanium',
      regime,
    });
    expect(growth.offsetNm).toBeCloseTo(3, 2);
    expect(growth.slopeNmPerV).toBeCloseTo(2.1, 4);
    expect(growth.curvatureNmPerV2).toBe(0);
    expect(growth).toMatchObject({
      regime,
      angleDeg: 0,
      voidFraction: 0,
      lowestVoltageV: 10,
      highestVoltageV: 100,
    });
    expect(growth.system).toEqual({ film: 'TiO2_Franta2015', substrate: 'Ti_Johnson1974' });
    expect(fit.residualDeltaE).toBeLessThan(0.01);
    expect(fit.verdict).toBe('good');
    expect(fit.flags).toEqual([]);
    expect(coupons.map(({ order }) => order)).toEqual([1, 1, 1, 1, 1, 2, 2, 2]);
    for (const coupon of coupons) {
      expect(coupon.ownThicknessNm).toBeCloseTo(trueThickness(straight, coupon.voltageV), 1);
      expect(coupon.deltaE).toBeLessThan(0.02);
    }
  });

  it('finds curvature where there is some, and says so with an interval', () => {
    const bowed = { offsetNm: 2, slopeNmPerV: 2.5, curvatureNmPerV2: -0.0055 };
    const { growth, intervals, verdict } = fitFilmGrowth({
      coupons: exact(bowed, eightRungs),
      system: 'titanium',
      regime,
    });
    expect(growth.offsetNm).toBeCloseTo(2, 1);
    expect(growth.slopeNmPerV).toBeCloseTo(2.5, 2);
    expect(growth.curvatureNmPerV2).toBeCloseTo(-0.0055, 4);
    expect(within(intervals?.curvatureNmPerV2 ?? undefined, -0.0055)).toBe(true);
    expect(verdict).toBe('good');
  });

  it('does not mind the order in which coupons come, repeats, or the bare metal at 0 V', () => {
    const coupons = exact(straight, [80, 0, 20, 50, 20]);
    const { growth, coupons: fitted } = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(growth.slopeNmPerV).toBeCloseTo(2.1, 3);
    expect(growth.lowestVoltageV).toBe(0);
    expect(fitted.map(({ voltageV }) => voltageV)).toEqual([0, 20, 20, 50, 80]);
  });

  it('reads spectra as well as CIELAB', () => {
    const coupons = [15, 30, 45, 60].map((voltageV) => ({
      voltageV,
      spectrum: {
        wavelengthsNm: Array.from({ length: 81 }, (_, i) => 380 + 5 * i),
        reflectance: titanium.colourAt(trueThickness(straight, voltageV)).reflectance,
      },
    }));
    expect(fitFilmGrowth({ coupons, system: 'titanium', regime }).growth.slopeNmPerV).toBeCloseTo(2.1, 3);
  });

  it('is fitted at the angle of the instrument and the porosity of the film', () => {
    const film = { angleDeg: 8, voidFraction: 0.1 };
    const model = filmModel({ ...titaniumSystem, ...film });
    const coupons = eightRungs.map((voltageV) => ({
      voltageV,
      lab: model.labAt(trueThickness(straight, voltageV)),
    }));
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime, ...film });
    expect(fit.growth).toMatchObject(film);
    expect(fit.growth.slopeNmPerV).toBeCloseTo(2.1, 3);
    const dense = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(dense.growth.slopeNmPerV).toBeLessThan(2.05);
  });

  it('a growth outside what is published is flagged', () => {
    const steep = { ...straight, slopeNmPerV: 3.1 };
    const fit = fitFilmGrowth({ coupons: exact(steep, eightRungs), system: 'titanium', regime });
    expect(fit.growth.slopeNmPerV).toBeCloseTo(3.1, 3);
    expect(fit.flags.join()).toMatch(/outside the published 1.5 to 2.8/);
  });
});

describe(
  'how often simulated ladders are read rightly (seeded; thickness scatters by 0.5 nm, colour by 0.4)',
  { timeout: PATIENCE_MS },
  () => {
    it('eight rungs: always the right orders, thickness to 0.5 nm, intervals that hold', () => {
      const result = simulate({ ladders: 60, seed: 1, voltagesV: () => eightRungs });
      expect(result.ordersRight).toBe(1);
      expect(result.good).toBeGreaterThanOrEqual(0.98);
      expect(result.offNm).toBeLessThan(0.5);
      expect(result.curved).toBeLessThanOrEqual(0.04);
      expect(result.slopeCovered).toBeGreaterThanOrEqual(0.89);
      expect(result.offsetCovered).toBeGreaterThanOrEqual(0.89);
    });

    it('colours known only to 1.5: still the right orders', () => {
      const result = simulate({ ladders: 50, seed: 2, voltagesV: () => eightRungs, colourSd: 1.5 });
      expect(result.ordersRight).toBe(1);
      expect(result.slopeCovered).toBeGreaterThanOrEqual(0.86);
    });

    it('thicknesses that scatter by 1.5 nm: right orders, and intervals that widen with them', () => {
      const result = simulate({ ladders: 60, seed: 3, voltagesV: () => eightRungs, thicknessSdNm: 1.5 });
      expect(result.ordersRight).toBe(1);
      expect(result.slopeCovered).toBeGreaterThanOrEqual(0.89);
    });

    it('three to six rungs anywhere between 10 and 100 V', () => {
      const result = simulate({
        ladders: 60,
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

    it('a ladder with its middle missing', () => {
      const result = simulate({ ladders: 50, seed: 5, voltagesV: () => [10, 15, 20, 80, 90, 100] });
      expect(result.ordersRight).toBeGreaterThanOrEqual(0.98);
    });

    it('growth that falls off with voltage', () => {
      const result = simulate({
        ladders: 50,
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
      const result = simulate({
        ladders: 30,
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
      const result = simulate({
        ladders: 40,
        seed: 8,
        voltagesV: () => eightRungs,
        truth: sets('TiO2_Franta2015', substrate),
      });
      expect(result.wrong).toBeGreaterThanOrEqual(share);
    }
  });

  it('another oxide is not told apart: its index goes into the slope, which holds only with its set', () => {
    const result = simulate({
      ladders: 40,
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

  it('a matt surface, which has lost light, is refused', () => {
    const coupons = exact(straight, eightRungs).map(({ voltageV, lab }) => ({
      voltageV,
      lab: { L: 0.7 * lab.L, a: 0.7 * lab.a, b: 0.7 * lab.b },
    }));
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(fit.verdict).toBe('wrong constants or surface');
    expect(fit.unexplainedDeltaE).toBeGreaterThan(3);
  });

  it('coupons of two baths, each a colour of the film but on no one curve, are refused with that hint', () => {
    const other = exact({ ...straight, slopeNmPerV: 2.3 }, [20, 40, 65, 100]);
    const coupons = [...exact(straight, [10, 30, 50, 80]), ...other];
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(fit.verdict).toBe('wrong constants or surface');
    expect(fit.unexplainedDeltaE).toBeLessThan(3);
    expect(fit.flags.join()).toMatch(/mixed regimes/);
  });
});

describe('alternatives', { timeout: PATIENCE_MS }, () => {
  it('other ways to count the orders are listed with residuals, best first, none like another', () => {
    const fit = fitFilmGrowth({ coupons: exact(straight, [40, 70, 100]), system: 'titanium', regime });
    expect(fit.alternatives.length).toBeGreaterThan(0);
    const residuals = fit.alternatives.map(({ residualDeltaE }) => residualDeltaE);
    expect(residuals).toEqual(residuals.toSorted((a, b) => a - b));
    for (const alternative of fit.alternatives) {
      expect(alternative.residualDeltaE).toBeGreaterThan(fit.residualDeltaE);
      expect(alternative.orders).toHaveLength(3);
      const thickest = alternative.offsetNm + alternative.slopeNmPerV * 100;
      expect(Math.abs(thickest - trueThickness(straight, 100))).toBeGreaterThan(20);
    }
  });

  it('far up the orders colours fade: three coupons cannot tell them apart, and the verdict says so', () => {
    const result = simulate({ ladders: 30, seed: 10, voltagesV: () => [400, 420, 440], slopes: [2, 2.2] });
    const uncertain = result.runs.filter(({ fit }) => fit.verdict === 'order uncertain');
    expect(uncertain.length).toBeGreaterThan(15);
    for (const { fit } of uncertain) expect(fit.alternatives[0]?.residualDeltaE).toBeLessThan(2.5);
    const misreadYetGood = result.runs.filter(({ growth, fit }) => {
      const top = fit.coupons.at(-1)?.thicknessNm ?? NaN;
      return fit.verdict === 'good' && Math.abs(top - trueThickness(growth, 440)) > 30;
    });
    expect(misreadYetGood).toEqual([]);
  });

  it('no alternative needs a growth far beyond what is published', () => {
    const fit = fitFilmGrowth({ coupons: exact(straight, [20, 40, 60]), system: 'titanium', regime });
    for (const { slopeNmPerV } of fit.alternatives) {
      expect(slopeNmPerV).toBeGreaterThan(1.5 * 0.7);
      expect(slopeNmPerV).toBeLessThan(2.8 * 1.3);
    }
  });
});

describe('refusals', () => {
  const coupons = exact(straight, eightRungs);
  const given = { coupons, system: 'titanium' as const, regime };
  it.each([
    [{ ...given, coupons: [] }, 'coupons', 'malformed'],
    [{ ...given, coupons: exact(straight, [20, 40, 20]) }, 'coupons', 'malformed'],
    [
      { ...given, coupons: [...coupons, { voltageV: -1, lab: { L: 50, a: 0, b: 0 } }] },
      'coupons[8].voltageV',
      'out-of-range',
    ],
    [
      { ...given, coupons: [...coupons, { voltageV: NaN, lab: { L: 50, a: 0, b: 0 } }] },
      'coupons[8].voltageV',
      'not-finite',
    ],
    [
      { ...given, coupons: [...coupons, { voltageV: 1, lab: { L: NaN, a: 0, b: 0 } }] },
      'coupons[8].lab.L',
      'not-finite',
    ],
    [{ ...given, system: 'steel' as const }, 'system', 'impossible'],
    [{ ...given, system: 'aluminium' as const }, 'system', 'impossible'],
    [{ ...given, system: 'gold' as 'titanium' }, 'system', 'unknown'],
    [{ ...given, regime: { ...regime, temperatureC: NaN } }, 'regime.temperatureC', 'not-finite'],
    [{ ...given, regime: { ...regime, holdS: -1 } }, 'regime.holdS', 'out-of-range'],
    [{ ...given, angleDeg: 90 }, 'angleDeg', 'out-of-range'],
    [{ ...given, voidFraction: -1 }, 'voidFraction', 'out-of-range'],
  ])('$1, $2', (input, argument, code) => {
    expect(() => fitFilmGrowth(input)).toThrow(expect.objectContaining({ argument, code }));
  });
});
