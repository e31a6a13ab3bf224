import { calibratedMetals, listCouponSeries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => {
  const { items } = await reading(api(listCouponSeries, { query: { status: 'approved', limit: 200 } }));
  const metals: readonly string[] = calibratedMetals;
  return { series: items.filter(({ material }) => metals.includes(material.baseMetal)) };
};
