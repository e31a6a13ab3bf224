import { listMaterials } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listMaterials.query.safeParse(queryFrom(url, listMaterials)).data ?? {};
  return { query, materials: await reading(api(listMaterials, { query })) };
};
