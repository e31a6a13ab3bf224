import type { Lab } from '../../src/colour/index.ts';
import type { FilmModel } from '../../src/optics/index.ts';
import type { seeded } from './seeded.ts';

export interface TrueGrowth {
  offsetNm: number;
  slopeNmPerV: number;
  curvatureNmPerV2: number;
}

export const trueThickness = (growth: TrueGrowth, voltageV: number): number =>
  growth.offsetNm + growth.slopeNmPerV * voltageV + growth.curvatureNmPerV2 * voltageV ** 2;

/**
 * Coupons as a shop would measure them: the film of each voltage scatters by `thicknessSdNm`, each of L, a
 * and b by `colourSd`. Both default to what a careful shop repeats to (common practice, no source).
 */
export function simulatedCoupons(options: {
  model: FilmModel;
  growth: TrueGrowth;
  voltagesV: readonly number[];
  random: ReturnType<typeof seeded>;
  thicknessSdNm?: number;
  colourSd?: number;
}): { voltageV: number; lab: Lab }[] {
  const { model, growth, random, thicknessSdNm = 0.5, colourSd = 0.4 } = options;
  return options.voltagesV.map((voltageV) => {
    const thicknessNm = Math.max(0, trueThickness(growth, voltageV) + thicknessSdNm * random.normal());
    const { L, a, b } = model.labAt(thicknessNm);
    const read = (value: number) => value + colourSd * random.normal();
    return { voltageV, lab: { L: Math.min(100, Math.max(0, read(L))), a: read(a), b: read(b) } };
  });
}
