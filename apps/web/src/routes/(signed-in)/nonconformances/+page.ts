import { listNonconformances } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listNonconformances.query.safeParse(queryFrom(url, listNonconformances)).data ?? {};
  return { query, nonconformances: await reading(api(listNonconformances, { query })) };
};
