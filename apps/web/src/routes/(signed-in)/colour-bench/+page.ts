import { listCouponSeries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => ({
  series: (await reading(api(listCouponSeries, { query: { status: 'approved', limit: 200 } }))).items,
});
