import { listLots } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listLots.query.safeParse(queryFrom(url, listLots)).data ?? {};
  return { query, lots: await reading(api(listLots, { query })) };
};
