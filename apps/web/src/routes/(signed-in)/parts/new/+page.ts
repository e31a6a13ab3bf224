import { getCustomer, listMaterials } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const of = url.searchParams.get('customerId');
  const [materials, customer] = await Promise.all([
    reading(api(listMaterials, { query: { limit: 200 } })),
    of === null ? null : reading(api(getCustomer, { params: { id: idOf(of) } })),
  ]);
  return { materials: materials.items, customer };
};
