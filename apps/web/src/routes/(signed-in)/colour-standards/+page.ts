import { listColourStandards } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listColourStandards.query.safeParse(queryFrom(url, listColourStandards)).data ?? {};
  return { query, standards: await reading(api(listColourStandards, { query })) };
};
