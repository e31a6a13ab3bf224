import { getCouponSeries, listPowerSupplies, listTanks } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const id = idOf(url.searchParams.get('series') ?? '');
  const [series, tanks, supplies] = await Promise.all([
    reading(api(getCouponSeries, { params: { id } })),
    reading(api(listTanks, { query: { limit: 200 } })),
    reading(api(listPowerSupplies, { query: { limit: 200 } })),
  ]);
  return { series, tanks: tanks.items, supplies: supplies.items };
};
