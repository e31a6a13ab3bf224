import { listRecipes } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listRecipes.query.safeParse(Object.fromEntries(url.searchParams)).data ?? {};
  return { query, recipes: await reading(api(listRecipes, { query })) };
};
