import { listRacks } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listRacks.query.safeParse(queryFrom(url, listRacks)).data ?? {};
  return { query, racks: await reading(api(listRacks, { query })) };
};
