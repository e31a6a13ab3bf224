import { getPolarizationScan, listMaterials, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?replaces=` enters a scan in the place of one that was entered wrongly. */
export const load: PageLoad = async ({ url }) => {
  const id = PathId.safeParse(url.searchParams.get('replaces')).data;
  const [materials, replaced] = await Promise.all([
    reading(api(listMaterials, { query: { limit: 200 } })),
    id === undefined ? null : reading(api(getPolarizationScan, { params: { id } })),
  ]);
  return { materials: materials.items, replaced };
};
