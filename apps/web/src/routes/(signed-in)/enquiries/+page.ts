import { listEnquiries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listEnquiries.query.safeParse(queryFrom(url, listEnquiries)).data ?? {};
  return { query, enquiries: await reading(api(listEnquiries, { query })) };
};
