import { getRecipeRevision } from '@huelot/contracts';
import { redirect } from '@sveltejs/kit';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const draft = await reading(api(getRecipeRevision, { params: { id: idOf(params.revisionId) } }));
  // It was approved or belongs elsewhere: there is nothing to write here.
  if (draft.status !== 'draft' || draft.recipe.id !== idOf(params.id)) {
    redirect(307, `/recipes/${draft.recipe.id}?revision=${draft.id}`);
  }
  return { draft };
};
