import type { CouponSeries, Material, NewCouponSeries, NewCouponTrial } from '@huelot/contracts';
import type { Ask } from './app.ts';
import { post } from './lab.ts';

/** A coupon of steel in hot caustic, blue, five minutes at 52 °C and 2.2 V. */
export const steelCoupon = (extra: Partial<NewCouponTrial>) => ({
  ...{
    mark: 'A1',
    temperatureC: 52,
    voltageV: 2.2,
    timeS: 300,
    strength: 0.5,
    outcome: 'interference' as const,
  },
  ...{ lab: { L: 40, a: 5, b: -30 }, grade: 'measured' as const, madeOn: '2026-03-02', madeBy: 'L. Frost' },
  ...extra,
});

const facts = {
  ...{ name: 'steel in caustic', contents: 'hot-caustic', component: 'KOH', unit: 'massFraction' },
  ...{ referenceTemperatureC: null, preparation: 'ground', notes: '', changeNote: '' },
};

/** A draft of a coupon series of carbon steel. */
export async function steelSeries(
  ask: Ask,
  {
    code,
    trials,
    facts: others = {},
  }: {
    code: string;
    trials: readonly ReturnType<typeof steelCoupon>[];
    /** Of another material or in another bath. */
    facts?: Partial<Pick<NewCouponSeries, 'materialId' | 'contents' | 'component'>>;
  },
): Promise<CouponSeries> {
  const listed = async () =>
    (await ask({ url: '/api/materials?limit=200' })).json<{ items: Material[] }>().items;
  const steelIn = (materials: readonly Material[]) =>
    materials.find(({ name }) => name === 'Carbon steel 1075')?.id;
  let materialId = steelIn(await listed());
  if (materialId === undefined) {
    await post(ask, '/api/materials/starting-library', {});
    materialId = steelIn(await listed());
  }
  return post<CouponSeries>(ask, '/api/coupon-series', { ...facts, code, materialId, trials, ...others });
}

/** Writes other coupons into a draft. */
export async function rewriteSeries(
  ask: Ask,
  { id, code, version, material }: CouponSeries,
  trials: readonly ReturnType<typeof steelCoupon>[],
): Promise<void> {
  const reply = await ask({
    ...{ method: 'PUT', url: `/api/coupon-series/${id}`, headers: { 'if-match': `"${version}"` } },
    payload: { ...facts, code, materialId: material.id, trials },
  });
  if (reply.statusCode >= 300) throw new Error(reply.body);
}
