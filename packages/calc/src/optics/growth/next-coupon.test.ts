import { describe, expect, it } from 'vitest';
import { filmModel } from '../film-model.ts';
import { titaniumSystem } from '../systems.ts';
import { regime } from '../../../reference/optics/fitted-series.ts';
import { seeded } from '../../../reference/optics/seeded.ts';
import { simulatedCoupons, trueThickness } from '../../../reference/optics/simulated-series.ts';
import { fitFilmGrowth } from './fit-film-growth.ts';
import { nextCoupon } from './next-coupon.ts';

const model = filmModel(titaniumSystem);
const range = { lowV: 300, highV: 460 };

/** Shops far up the orders, where three coupons do not decide them, and what a fourth does at a voltage that is chosen. */
function decidedByFourth(
  choose: (fit: ReturnType<typeof fitFilmGrowth>, random: () => number) => number | null,
) {
  const random = seeded(11);
  const growths = Array.from({ length: 24 }, () => ({
    offsetNm: random.uniform(1, 5),
    slopeNmPerV: random.uniform(2, 2.2),
    curvatureNmPerV2: 0,
  }));
  const fits = growths.flatMap((growth) => {
    const made = (voltagesV: readonly number[]) => simulatedCoupons({ model, growth, voltagesV, random });
    const coupons = made([400, 420, 440]);
    const before = fitFilmGrowth({ coupons, system: 'titanium', regime });
    if (before.verdict !== 'order uncertain') return [];
    const voltageV = choose(before, random.uniform);
    const fit =
      voltageV === null
        ? before
        : fitFilmGrowth({ coupons: [...coupons, ...made([voltageV])], system: 'titanium', regime });
    const top = fit.coupons.find((coupon) => coupon.voltageV === 440)?.thicknessNm ?? NaN;
    return [{ isDecided: fit.verdict === 'good', isRight: Math.abs(top - trueThickness(growth, 440)) < 30 }];
  });
  return {
    shops: fits.length,
    decided: fits.filter(({ isDecided }) => isDecided).length,
    wrong: fits.filter(({ isDecided, isRight }) => isDecided && !isRight).length,
  };
}

describe('the next coupon', () => {
  it('decides the orders of more simulated shops than one anywhere in the range, and none wrongly', () => {
    const proposed = decidedByFourth((fit) => nextCoupon({ fit, range }).voltageV);
    const anywhere = decidedByFourth((_, uniform) => range.lowV + (range.highV - range.lowV) * uniform());
    expect(proposed.shops).toBeGreaterThan(10);
    expect(proposed.wrong).toBe(0);
    expect(proposed.decided / proposed.shops).toBeGreaterThanOrEqual(0.8);
    expect(proposed.decided).toBeGreaterThan(anywhere.decided);
  }, 60_000);

  it('is never outside of the range, whatever it is for', () => {
    const random = seeded(12);
    for (let shop = 0; shop < 12; shop += 1) {
      const growth = { offsetNm: 3, slopeNmPerV: random.uniform(1.8, 2.5), curvatureNmPerV2: 0 };
      const voltagesV = [random.uniform(10, 40), random.uniform(41, 70), random.uniform(71, 100)];
      const coupons = simulatedCoupons({ model, growth, voltagesV, random });
      const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
      const lowV = random.uniform(0, 90);
      const asked = { lowV, highV: lowV + random.uniform(1, 20) };
      for (const targetVoltageV of [undefined, 50]) {
        const { voltageV } = nextCoupon({ fit, range: asked, ...(targetVoltageV && { targetVoltageV }) });
        if (voltageV === null) continue;
        expect(voltageV).toBeGreaterThanOrEqual(asked.lowV);
        expect(voltageV).toBeLessThanOrEqual(asked.highV);
      }
    }
  });

  it('narrows the voltage of a target by what it says', () => {
    const growth = { offsetNm: 3, slopeNmPerV: 2.1, curvatureNmPerV2: 0 };
    const coupons = simulatedCoupons({ model, growth, voltagesV: [20, 40, 60, 80], random: seeded(13) });
    const fit = fitFilmGrowth({ coupons, system: 'titanium', regime });
    const { why } = nextCoupon({ fit, range: { lowV: 10, highV: 100 }, targetVoltageV: 72 });
    expect(why).toMatchObject({ code: 'narrows-target', aboutVoltageV: 72 });
    if (why.code !== 'narrows-target') throw new Error(why.code);
    expect(why.afterV).toBeLessThan(why.beforeV ?? 0);
  });

  it('proposes none for a series that is not of this metal, and none in a range that does not rise', () => {
    const growth = { offsetNm: 3, slopeNmPerV: 2.1, curvatureNmPerV2: 0 };
    const coupons = simulatedCoupons({ model, growth, voltagesV: [10, 25, 40, 60, 80], random: seeded(14) });
    const grey = coupons.map(({ voltageV, lab }) => ({ voltageV, lab: { L: lab.L / 2, a: 0, b: 0 } }));
    const fit = fitFilmGrowth({ coupons: grey, system: 'titanium', regime });
    expect(nextCoupon({ fit, range })).toMatchObject({ voltageV: null, why: { code: 'wrong-constants' } });
    expect(() => nextCoupon({ fit, range: { lowV: 40, highV: 40.2 } })).not.toThrow();
    expect(() => nextCoupon({ fit, range: { lowV: 40.1, highV: 40.2 } })).toThrow(/half a volt/);
  });
});
