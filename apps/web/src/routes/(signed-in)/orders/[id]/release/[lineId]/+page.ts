import { getOrder, planLoads } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, url }) => {
  const query = planLoads.query.parse(queryFrom(url, planLoads));
  const [order, plan] = await Promise.all([
    reading(api(getOrder, { params: { id: idOf(params.id) } })),
    reading(api(planLoads, { params: { id: idOf(params.lineId) }, query })),
  ]);
  return { order, plan, lineId: idOf(params.lineId) };
};
