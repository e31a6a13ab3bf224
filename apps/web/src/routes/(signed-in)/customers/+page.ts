import { listCustomers } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listCustomers.query.safeParse(queryFrom(url, listCustomers)).data ?? {};
  return { query, customers: await reading(api(listCustomers, { query })) };
};
