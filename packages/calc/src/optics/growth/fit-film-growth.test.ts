import { describe, expect, it } from 'vitest';
import {
  eightRungs,
  exactCoupons,
  regime,
  straight,
  titanium,
  within,
} from '../../../reference/optics/fitted-series.ts';
import { seeded } from '../../../reference/optics/seeded.ts';
import { simulatedCoupons, trueThickness } from '../../../reference/optics/simulated-series.ts';
import { deltaE2000 } from '../../colour/index.ts';
import { filmModel } from '../film-model.ts';
import { titaniumSystem } from '../systems.ts';
import { fitFilmGrowth } from './fit-film-growth.ts';
import { thicknessFromVoltage } from './thickness-from-voltage.ts';

describe('a series without noise', () => {
  it('gives back what made it, orders and all', () => {
    const { growth, coupons, ...fit } = fitFilmGrowth({
      coupons: exactCoupons(straight, eightRungs),
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
      coupons: exactCoupons(bowed, eightRungs),
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
    const coupons = exactCoupons(straight, [80, 0, 20, 50, 20]);
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
    const fit = fitFilmGrowth({ coupons: exactCoupons(steep, eightRungs), system: 'titanium', regime });
    expect(fit.growth.slopeNmPerV).toBeCloseTo(3.1, 3);
    expect(fit.flags.join()).toMatch(/outside the published 1.5 to 2.8/);
    const flat = { ...straight, slopeNmPerV: 1.3 };
    const low = fitFilmGrowth({ coupons: exactCoupons(flat, eightRungs), system: 'titanium', regime });
    expect(low.growth.slopeNmPerV).toBeCloseTo(1.3, 3);
    expect(low.flags.join()).toMatch(/outside the published 1.5 to 2.8/);
  });

  it('nor does curvature come in where coupons cannot show it: three fix a line', () => {
    const bowed = { offsetNm: 2, slopeNmPerV: 2.5, curvatureNmPerV2: -0.0055 };
    const fit = fitFilmGrowth({ coupons: exactCoupons(bowed, [20, 50, 80]), system: 'titanium', regime });
    expect(fit.growth.curvatureNmPerV2).toBe(0);
    expect(fit.intervals?.curvatureNmPerV2).toBeNull();
  });
});

describe('a series that scatters', () => {
  const random = seeded(12);
  const coupons = simulatedCoupons({ model: titanium, growth: straight, voltagesV: eightRungs, random });
  const fit = () => fitFilmGrowth({ coupons, system: 'titanium', regime });

  it('has intervals of Student’s t times the standard errors: t(0.975, 6) = 2.4469', () => {
    const { growth, intervals } = fit();
    expect(growth.uncertainty?.degreesOfFreedom).toBe(6);
    for (const [k, interval, value] of [
      [0, intervals?.offsetNm, growth.offsetNm],
      [1, intervals?.slopeNmPerV, growth.slopeNmPerV],
    ] as const) {
      const half = 2.4469 * Math.sqrt(growth.uncertainty?.covariance[k]?.[k] ?? NaN);
      expect((interval?.high ?? NaN) - value).toBeCloseTo(half, 3);
      expect(value - (interval?.low ?? NaN)).toBeCloseTo(half, 3);
    }
    expect(intervals?.curvatureNmPerV2).toBeNull();
  });

  it('is told coupon by coupon and altogether', () => {
    const { coupons: fitted, residualDeltaE, unexplainedDeltaE, growth } = fit();
    const square = (values: number[]) =>
      Math.sqrt(values.reduce((total, value) => total + value ** 2, 0) / values.length);
    expect(residualDeltaE).toBeCloseTo(square(fitted.map(({ deltaE }) => deltaE)), 9);
    expect(unexplainedDeltaE).toBeCloseTo(square(fitted.map(({ ownDeltaE }) => ownDeltaE)), 9);
    expect(unexplainedDeltaE).toBeLessThan(residualDeltaE);
    for (const [i, coupon] of fitted.entries()) {
      const shown = titanium.labAt(growth.offsetNm + growth.slopeNmPerV * coupon.voltageV);
      expect(coupon.deltaE).toBeCloseTo(deltaE2000(coupons[i]?.lab ?? shown, shown), 1);
      expect(deltaE2000(coupon.predicted, shown)).toBeLessThan(0.02);
    }
  });
});

describe('wrong constants', () => {
  it('a matt surface, which has lost light, is refused', () => {
    const coupons = exactCoupons(straight, eightRungs).map(({ voltageV, lab }) => ({
      voltageV,
      lab: { L: 0.7 * lab.L, a: 0.7 * lab.a, b: 0.7 * lab.b },
    }));
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(fit.verdict).toBe('wrong constants or surface');
    expect(fit.unexplainedDeltaE).toBeGreaterThan(3);
    expect(fit.flags.join()).not.toMatch(/mixed regimes/);
  });

  it('coupons of two baths, each a colour of the film but on no one curve, are refused with that hint', () => {
    const other = exactCoupons({ ...straight, slopeNmPerV: 2.3 }, [20, 40, 65, 100]);
    const coupons = [...exactCoupons(straight, [10, 30, 50, 80]), ...other];
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(fit.verdict).toBe('wrong constants or surface');
    expect(fit.unexplainedDeltaE).toBeLessThan(3);
    expect(fit.flags.join()).toMatch(/mixed regimes/);
  });
});

describe('alternatives', () => {
  it('other ways to count the orders are listed with residuals, best first, none like another', () => {
    const fit = fitFilmGrowth({ coupons: exactCoupons(straight, [40, 70, 100]), system: 'titanium', regime });
    expect(fit.alternatives.length).toBeGreaterThan(0);
    const residuals = fit.alternatives.map(({ residualDeltaE }) => residualDeltaE);
    expect(residuals).toEqual(residuals.toSorted((a, b) => a - b));
    expect(fit.alternatives.length).toBeLessThanOrEqual(4);
    for (const alternative of fit.alternatives) {
      expect(alternative.residualDeltaE).toBeGreaterThan(fit.residualDeltaE);
      const { offsetNm, slopeNmPerV } = alternative;
      expect(alternative.orders).toEqual(
        [40, 70, 100].map(
          (voltageV) => Math.floor(titanium.halfWavesAt(Math.max(0, offsetNm + slopeNmPerV * voltageV))) + 1,
        ),
      );
      const thickest = alternative.offsetNm + alternative.slopeNmPerV * 100;
      expect(Math.abs(thickest - trueThickness(straight, 100))).toBeGreaterThan(20);
    }
  });

  it('far up the orders, where colours fade, a rival within 0.5 dE00 leaves the order uncertain', () => {
    const fitOf = (seed: number) => {
      const random = seeded(seed);
      const voltagesV = [400, 420, 440];
      const coupons = simulatedCoupons({ model: titanium, growth: straight, voltagesV, random });
      const { verdict, residualDeltaE, alternatives } = fitFilmGrowth({
        coupons,
        system: 'titanium',
        regime,
      });
      return { verdict, lead: (alternatives[0]?.residualDeltaE ?? NaN) - residualDeltaE };
    };
    const [close, clear] = [fitOf(9), fitOf(8)];
    expect(close.lead).toBeLessThan(0.5);
    expect(close.verdict).toBe('order uncertain');
    expect(clear.lead).toBeGreaterThan(0.5);
    expect(clear.verdict).toBe('good');
  });

  it('a thickness known from elsewhere decides the order, or is refused where no count gives it', () => {
    const coupons = simulatedCoupons({
      ...{ model: titanium, growth: straight, voltagesV: [400, 420, 440], random: seeded(9) },
    });
    const known = { coupons, system: 'titanium', regime } as const;
    const fit = fitFilmGrowth({ ...known, highestThicknessNm: trueThickness(straight, 440) + 25 });
    expect(fit.verdict).toBe('good');
    expect(Math.abs(fit.growth.offsetNm + fit.growth.slopeNmPerV * 440 - 927)).toBeLessThan(10);
    const rival = fitFilmGrowth(known).alternatives[0];
    const rivalNm = (rival?.offsetNm ?? NaN) + 440 * (rival?.slopeNmPerV ?? NaN);
    const other = fitFilmGrowth({ ...known, highestThicknessNm: rivalNm });
    expect(other.growth.slopeNmPerV).toBeCloseTo(rival?.slopeNmPerV ?? NaN, 9);
    expect(() => fitFilmGrowth({ ...known, highestThicknessNm: 30 })).toThrow(/some way to count the orders/);
    for (const highestThicknessNm of [-1, NaN, 1e6])
      expect(() => fitFilmGrowth({ ...known, highestThicknessNm })).toThrow();
  });

  it('a law whose bow is not told from chance says so: its 95 % band held the film in 84 of 100 shops', () => {
    const growth = { offsetNm: 3, slopeNmPerV: 2.2, curvatureNmPerV2: -0.0012 };
    const fits = Array.from({ length: 40 }, (_, seed) => {
      const random = seeded(seed);
      const coupons = simulatedCoupons({
        ...{ model: titanium, growth, voltagesV: eightRungs, random, thicknessSdNm: 1.2 },
      });
      return fitFilmGrowth({ coupons, system: 'titanium', regime });
    });
    const straightened = fits.filter((fit) => fit.growth.curvatureNmPerV2 === 0);
    expect(straightened.length).toBeGreaterThan(15);
    const held = straightened.filter((fit) => {
      expect(fit.intervals?.curvatureNmPerV2).toBeNull();
      const { intervalNm } = thicknessFromVoltage({ growth: fit.growth, voltageV: 55 });
      return within(intervalNm ?? undefined, trueThickness(growth, 55));
    });
    expect(held.length / straightened.length).toBeGreaterThan(0.93);
  });

  it('no alternative needs a growth far beyond what is published', () => {
    const fit = fitFilmGrowth({ coupons: exactCoupons(straight, [20, 40, 60]), system: 'titanium', regime });
    for (const { slopeNmPerV } of fit.alternatives) {
      expect(slopeNmPerV).toBeGreaterThan(1.5 * 0.7);
      expect(slopeNmPerV).toBeLessThan(2.8 * 1.3);
    }
  });
});

describe('refusals', () => {
  const coupons = exactCoupons(straight, eightRungs);
  const given = { coupons, system: 'titanium' as const, regime };
  it.each([
    [{ ...given, coupons: [] }, 'coupons', 'malformed'],
    [{ ...given, coupons: exactCoupons(straight, [20, 40, 20]) }, 'coupons', 'malformed'],
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
    [{ ...given, regime: { ...regime, temperatureC: -20.1 } }, 'regime.temperatureC', 'out-of-range'],
    [{ ...given, regime: { ...regime, temperatureC: 200.1 } }, 'regime.temperatureC', 'out-of-range'],
    [{ ...given, regime: { ...regime, holdS: -1 } }, 'regime.holdS', 'out-of-range'],
    [{ ...given, angleDeg: 90 }, 'angleDeg', 'out-of-range'],
    [{ ...given, voidFraction: -1 }, 'voidFraction', 'out-of-range'],
  ])('$1, $2', (input, argument, code) => {
    expect(() => fitFilmGrowth(input)).toThrow(expect.objectContaining({ argument, code }));
  });

  it('says how many voltages there were', () => {
    const fit =
      (...voltagesV: number[]) =>
      () =>
        fitFilmGrowth({ ...given, coupons: exactCoupons(straight, voltagesV) });
    expect(fit(20, 20, 20)).toThrow('1 different voltage;');
    expect(fit(20, 40, 20)).toThrow('2 different voltages;');
    expect(fitFilmGrowth({ ...given, regime: { ...regime, temperatureC: -20 } }).verdict).toBe('good');
  });
});
