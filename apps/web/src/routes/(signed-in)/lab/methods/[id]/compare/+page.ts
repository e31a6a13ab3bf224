import { getMethod } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?with=` names the other revision. */
export const load: PageLoad = async ({ params, url }) => {
  const read = (id: string) => reading(api(getMethod, { params: { id: idOf(id) } }));
  const { method, revisions } = await read(params.id);
  const other = url.searchParams.get('with');
  return { method, revisions, other: other === null ? method : (await read(other)).method };
};
