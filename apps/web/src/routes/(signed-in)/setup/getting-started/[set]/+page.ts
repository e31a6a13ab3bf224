import { getStarterSet, StarterSetKey } from '@huelot/contracts';
import { error } from '@sveltejs/kit';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const set = StarterSetKey.safeParse(params.set);
  if (!set.success) error(404, 'There is no such starter set.');
  return { set: await reading(api(getStarterSet, { params: { set: set.data } })) };
};
