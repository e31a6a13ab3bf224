import { getMyReminders, listMySignIns } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => {
  const [signIns, reminders] = await Promise.all([reading(api(listMySignIns)), reading(api(getMyReminders))]);
  return { signIns, reminders };
};
