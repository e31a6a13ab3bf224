import { getShop, listNumberSeries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => {
  const [shop, series] = await Promise.all([reading(api(getShop)), reading(api(listNumberSeries))]);
  return { shop, series: series.items };
};
