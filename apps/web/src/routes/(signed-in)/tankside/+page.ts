import { listReadySteps } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const tank = url.searchParams.get('tank');
  const search = url.searchParams.get('search') ?? undefined;
  return { tank, search, ready: await reading(api(listReadySteps, { query: { search } })) };
};
