import { getNonconformance, listActionOwners, listHistory, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
  const { me } = await parent();
  const id = idOf(params.id);
  const [nonconformance, history, owners] = await Promise.all([
    reading(api(getNonconformance, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'nonconformance', id } })),
    may(me.person.roles, 'inspection.write') ? reading(api(listActionOwners)) : null,
  ]);
  return { nonconformance, history, owners: owners?.people ?? [] };
};
