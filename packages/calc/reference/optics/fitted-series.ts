import { filmModel } from '../../src/optics/film-model.ts';
import { fitFilmGrowth, type GrowthFit } from '../../src/optics/growth/fit-film-growth.ts';
import type { GrowthRegime } from '../../src/optics/growth/growth.ts';
import { resolveSystem, type System } from '../../src/optics/resolve-system.ts';
import { titaniumSystem } from '../../src/optics/systems.ts';
import { seeded } from './seeded.ts';
import { simulatedCoupons, type TrueGrowth, trueThickness } from './simulated-series.ts';

export const regime: GrowthRegime = {
  alloy: 'titanium grade 2',
  preparation: 'polished',
  bath: 'trisodium phosphate 50 g/L',
  temperatureC: 22,
  holdS: 30,
};
export const eightRungs = [10, 20, 30, 40, 50, 65, 80, 100];
export const straight = { offsetNm: 3, slopeNmPerV: 2.1, curvatureNmPerV2: 0 };
export const titanium = filmModel(titaniumSystem);

/** The coupons that a growth makes on titanium when nothing scatters. */
export const exactCoupons = (growth: TrueGrowth, voltagesV: readonly number[]) =>
  simulatedCoupons({ model: titanium, growth, voltagesV, random: seeded(0), thicknessSdNm: 0, colourSd: 0 });

/** Fits many simulated series and says how often each thing holds. */
export function fitSimulatedSeries(options: {
  series: number;
  seed: number;
  voltagesV: (random: ReturnType<typeof seeded>) => readonly number[];
  truth?: System;
  fitted?: System;
  slopes?: [number, number];
  curvatureNmPerV2?: number;
  thicknessSdNm?: number;
  colourSd?: number;
}) {
  const random = seeded(options.seed);
  const model = filmModel(resolveSystem(options.truth ?? 'titanium'));
  const runs = Array.from({ length: options.series }, () => {
    const [low, high] = options.slopes ?? [1.7, 2.6];
    const growth = {
      offsetNm: random.uniform(1, 5),
      slopeNmPerV: random.uniform(low, high),
      curvatureNmPerV2: options.curvatureNmPerV2 ?? 0,
    };
    const { thicknessSdNm = 0.5, colourSd = 0.4 } = options;
    const coupons = simulatedCoupons({
      model,
      growth,
      voltagesV: options.voltagesV(random),
      random,
      thicknessSdNm,
      colourSd,
    });
    return { growth, fit: fitFilmGrowth({ coupons, system: options.fitted ?? 'titanium', regime }) };
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

export const within = (interval: { low: number; high: number } | undefined, value: number): boolean =>
  interval !== undefined && interval.low <= value && value <= interval.high;
