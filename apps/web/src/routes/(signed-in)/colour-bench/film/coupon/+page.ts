import { getCouponFilm, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?series=&mark=` names the coupon. */
export const load: PageLoad = async ({ url }) => {
  const id = PathId.safeParse(url.searchParams.get('series')).data ?? idOf('');
  const mark = (url.searchParams.get('mark') ?? '').slice(0, 40);
  return { film: await reading(api(getCouponFilm, { params: { id }, query: { mark } })) };
};
