import { listAudit } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listAudit.query.safeParse(Object.fromEntries(url.searchParams)).data ?? {};
  return { query, entries: await reading(api(listAudit, { query })) };
};
