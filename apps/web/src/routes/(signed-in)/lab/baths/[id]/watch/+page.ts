import { getBathPage, getTank, listMethods } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [page, methods] = await Promise.all([
    reading(api(getBathPage, { params: { id: idOf(params.id) } })),
    reading(api(listMethods, { query: { limit: 200 } })),
  ]);
  const tank = await reading(api(getTank, { params: { id: page.bath.tankId } }));
  return { page, methods: methods.items, tank };
};
