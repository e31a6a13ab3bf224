import { getCouponSeries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => ({
  series: await reading(api(getCouponSeries, { params: { id: idOf(params.id) } })),
});
