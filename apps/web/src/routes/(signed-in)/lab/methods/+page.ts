import { listMethods } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listMethods.query.safeParse(queryFrom(url, listMethods)).data ?? {};
  return { query, methods: await reading(api(listMethods, { query })) };
};
