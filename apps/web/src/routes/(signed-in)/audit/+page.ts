import { listAudit, listPeople } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listAudit.query.safeParse(queryFrom(url, listAudit)).data ?? {};
  const [entries, people] = await Promise.all([reading(api(listAudit, { query })), reading(api(listPeople))]);
  const choices = people.items.map(({ id, displayName }) => ({ value: String(id), label: displayName }));
  return { query, entries, people: choices };
};
