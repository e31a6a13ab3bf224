import { listOrders } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listOrders.query.safeParse(queryFrom(url, listOrders)).data ?? {};
  return { query, orders: await reading(api(listOrders, { query })) };
};
