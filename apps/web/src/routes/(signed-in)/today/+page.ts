import { getGettingStarted, getToday, listKeptForms, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ parent }) => {
  const { me } = await parent();
  const [today, start, kept] = await Promise.all([
    reading(api(getToday)),
    may(me.person.roles, 'setup.write') ? reading(api(getGettingStarted)) : null,
    reading(api(listKeptForms)),
  ]);
  return { today, start, kept: kept.items };
};
