import { getEnquiry, listMaterials, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?enquiry=` starts the series that tries what an enquiry asks for, on its material. */
export const load: PageLoad = async ({ url }) => {
  const id = PathId.safeParse(url.searchParams.get('enquiry')).data;
  const [materials, enquiry] = await Promise.all([
    reading(api(listMaterials, { query: { limit: 200 } })),
    id === undefined ? null : reading(api(getEnquiry, { params: { id } })),
  ]);
  return { materials: materials.items, enquiry };
};
