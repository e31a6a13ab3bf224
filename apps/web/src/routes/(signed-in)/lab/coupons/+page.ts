import { listCouponSeries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listCouponSeries.query.safeParse(queryFrom(url, listCouponSeries)).data ?? {};
  return { query, series: await reading(api(listCouponSeries, { query })) };
};
