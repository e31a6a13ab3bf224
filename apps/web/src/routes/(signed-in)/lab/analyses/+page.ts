import { listAnalyses } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listAnalyses.query.parse(queryFrom(url, listAnalyses));
  return { query, analyses: await reading(api(listAnalyses, { query })) };
};
