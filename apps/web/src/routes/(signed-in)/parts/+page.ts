import { getCustomer, listMaterials, listParts, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url, parent }) => {
  const query = listParts.query.safeParse(queryFrom(url, listParts)).data ?? {};
  const { me } = await parent();
  const { customerId: id } = query;
  const [parts, materials, customer] = await Promise.all([
    reading(api(listParts, { query })),
    reading(api(listMaterials, { query: { limit: 200 } })),
    id === undefined || !may(me.person.roles, 'customers.read')
      ? null
      : reading(api(getCustomer, { params: { id } })),
  ]);
  return { query, parts, materials: materials.items, customer };
};
