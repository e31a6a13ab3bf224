import { listChemicals } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listChemicals.query.safeParse(queryFrom(url, listChemicals)).data ?? {};
  return { query, chemicals: await reading(api(listChemicals, { query })) };
};
