import { describe, expect, it } from 'vitest';
import {
  eightRungs,
  exactLadder,
  regime,
  straight,
  titanium,
  within,
} from '../../../reference/optics/fitted-ladders.ts';
import { trueThickness } from '../../../reference/optics/simulated-ladder.ts';
import { filmModel } from '../film-model.ts';
import { titaniumSystem } from '../systems.ts';
import { fitFilmGrowth } from './fit-film-growth.ts';

describe('a ladder without noise', () => {
  it('gives back what made it, orders and all', () => {
    const { growth, coupons, ...fit } = fitFilmGrowth({
      coupons: exactLadder(straight, eightRungs),
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
      coupons: exactLadder(bowed, eightRungs),
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
    const coupons = exactLadder(straight, [80, 0, 20, 50, 20]);
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
    const fit = fitFilmGrowth({ coupons: exactLadder(steep, eightRungs), system: 'titanium', regime });
    expect(fit.growth.slopeNmPerV).toBeCloseTo(3.1, 3);
    expect(fit.flags.join()).toMatch(/outside the published 1.5 to 2.8/);
  });
});

describe('wrong constants', () => {
  it('a matt surface, which has lost light, is refused', () => {
    const coupons = exactLadder(straight, eightRungs).map(({ voltageV, lab }) => ({
      voltageV,
      lab: { L: 0.7 * lab.L, a: 0.7 * lab.a, b: 0.7 * lab.b },
    }));
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(fit.verdict).toBe('wrong constants or surface');
    expect(fit.unexplainedDeltaE).toBeGreaterThan(3);
  });

  it('coupons of two baths, each a colour of the film but on no one curve, are refused with that hint', () => {
    const other = exactLadder({ ...straight, slopeNmPerV: 2.3 }, [20, 40, 65, 100]);
    const coupons = [...exactLadder(straight, [10, 30, 50, 80]), ...other];
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    expect(fit.verdict).toBe('wrong constants or surface');
    expect(fit.unexplainedDeltaE).toBeLessThan(3);
    expect(fit.flags.join()).toMatch(/mixed regimes/);
  });
});

describe('alternatives', () => {
  it('other ways to count the orders are listed with residuals, best first, none like another', () => {
    const fit = fitFilmGrowth({ coupons: exactLadder(straight, [40, 70, 100]), system: 'titanium', regime });
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

  it('no alternative needs a growth far beyond what is published', () => {
    const fit = fitFilmGrowth({ coupons: exactLadder(straight, [20, 40, 60]), system: 'titanium', regime });
    for (const { slopeNmPerV } of fit.alternatives) {
      expect(slopeNmPerV).toBeGreaterThan(1.5 * 0.7);
      expect(slopeNmPerV).toBeLessThan(2.8 * 1.3);
    }
  });
});

describe('refusals', () => {
  const coupons = exactLadder(straight, eightRungs);
  const given = { coupons, system: 'titanium' as const, regime };
  it.each([
    [{ ...given, coupons: [] }, 'coupons', 'malformed'],
    [{ ...given, coupons: exactLadder(straight, [20, 40, 20]) }, 'coupons', 'malformed'],
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
