import { listRecipes } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listRecipes.query.safeParse(queryFrom(url, listRecipes)).data ?? {};
  return { query, recipes: await reading(api(listRecipes, { query })) };
};
