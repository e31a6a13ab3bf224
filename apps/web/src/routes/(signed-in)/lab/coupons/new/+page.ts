import { listMaterials } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => ({
  materials: (await reading(api(listMaterials, { query: { limit: 200 } }))).items,
});
