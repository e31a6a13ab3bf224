import { listTrialRuns } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listTrialRuns.query.safeParse(queryFrom(url, listTrialRuns)).data ?? {};
  return { query, runs: await reading(api(listTrialRuns, { query })) };
};
