import { getSignInRules, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ parent }) => {
  const { me } = await parent();
  return { rules: may(me.person.roles, 'people.read') ? await reading(api(getSignInRules)) : null };
};
