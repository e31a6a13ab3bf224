import { expect, it } from 'vitest';
import { simulateShops } from '../../../reference/optics/simulated-shops.ts';
import { exactCoupons, regime, straight } from '../../../reference/optics/fitted-series.ts';
import { suspectCoupon } from './suspect-coupon.ts';

it('thirty simulated shops, one coupon of each prepared wrongly: it is found, the law holds, nothing is proposed outside', () => {
  const figures = simulateShops({ shops: 30, seed: 20261130 });
  expect(figures.outsideCoupons).toBe(0);
  expect(figures.rejected).toBeGreaterThanOrEqual(0.85);
  expect(figures.misjudged).toBeLessThanOrEqual(0.07);
  expect(figures.within).toBeGreaterThanOrEqual(0.85);
  expect(figures.lotsOut).toBeLessThan(0.12);
}, 120_000);

it('suspects no coupon of a series that agrees, and none where too few are left to say so', () => {
  const coupons = exactCoupons(straight, [10, 20, 30, 40, 50, 65, 80]);
  expect(suspectCoupon({ coupons, system: 'titanium', regime })).toBeNull();
  const few = exactCoupons(straight, [10, 20, 30, 40]).map((coupon, index) =>
    index === 2 ? { ...coupon, lab: { L: 50, a: 0, b: 0 } } : coupon,
  );
  expect(suspectCoupon({ coupons: few, system: 'titanium', regime })).toBeNull();
});
