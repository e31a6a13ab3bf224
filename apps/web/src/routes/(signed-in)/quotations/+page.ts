import { listQuotations } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listQuotations.query.safeParse(queryFrom(url, listQuotations)).data ?? {};
  return { query, quotations: await reading(api(listQuotations, { query })) };
};
