import { getRecipeRevision } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?from=` names a revision whose head and steps the new recipe starts with. */
export const load: PageLoad = async ({ url }) => {
  const from = url.searchParams.get('from');
  return {
    from: from === null ? null : await reading(api(getRecipeRevision, { params: { id: idOf(from) } })),
  };
};
