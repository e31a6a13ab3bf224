import { listChemicals } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listChemicals.query.safeParse(Object.fromEntries(url.searchParams)).data ?? {};
  return { query, chemicals: await reading(api(listChemicals, { query })) };
};
