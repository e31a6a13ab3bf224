import { listReadySteps, listTrialRuns } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const tank = url.searchParams.get('tank');
  const search = url.searchParams.get('search') ?? undefined;
  const [ready, trials] = await Promise.all([
    reading(api(listReadySteps, { query: { search } })),
    reading(api(listTrialRuns, { query: { search, limit: 200 } })),
  ]);
  return { tank, search, ready, trials: trials.items };
};
