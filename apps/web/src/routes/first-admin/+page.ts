import { redirect } from '@sveltejs/kit';
import { getSetUpState } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => {
  const { setUp } = await reading(api(getSetUpState));
  if (setUp) redirect(307, '/sign-in');
};
