import { getCouponSeries, listMaterials } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [series, materials] = await Promise.all([
    reading(api(getCouponSeries, { params: { id: idOf(params.id) } })),
    reading(api(listMaterials, { query: { limit: 200 } })),
  ]);
  return { series, materials: materials.items };
};
