import { listDeliveryNotes } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listDeliveryNotes.query.safeParse(queryFrom(url, listDeliveryNotes)).data ?? {};
  return { query, notes: await reading(api(listDeliveryNotes, { query })) };
};
