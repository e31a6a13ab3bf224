import { listColourCatalogue, listMaterials } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listColourCatalogue.query.safeParse(queryFrom(url, listColourCatalogue)).data ?? {};
  const [colours, materials] = await Promise.all([
    reading(api(listColourCatalogue, { query })),
    reading(api(listMaterials, { query: { limit: 200 } })),
  ]);
  return { query, colours, materials: materials.items };
};
