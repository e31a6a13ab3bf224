import { listAdditions } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listAdditions.query.parse(queryFrom(url, listAdditions));
  return { query, additions: await reading(api(listAdditions, { query })) };
};
