import { listTanks } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listTanks.query.safeParse(queryFrom(url, listTanks)).data ?? {};
  return { query, tanks: await reading(api(listTanks, { query })) };
};
