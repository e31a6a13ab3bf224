import {
  getProvenance,
  getRecipe,
  getRecipeApproval,
  getRecipeEvidence,
  getRecipeRevision,
  listHistory,
  listRecipeUses,
  may,
} from '@huelot/contracts';
import { error } from '@sveltejs/kit';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?revision=` names the revision shown; without it the approved one, or the newest. */
export const load: PageLoad = async ({ params, url, parent }) => {
  const id = idOf(params.id);
  const asked = url.searchParams.get('revision');
  const [recipe, uses, history] = await Promise.all([
    reading(api(getRecipe, { params: { id } })),
    reading(api(listRecipeUses, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'recipe', id } })),
  ]);
  const { revisions } = recipe;
  const chosen =
    asked === null
      ? (revisions.find(({ status }) => status === 'approved') ?? revisions[0])
      : revisions.find((revision) => revision.id === idOf(asked));
  if (chosen === undefined) error(404, 'This recipe has no such revision.');
  const [shown, evidence, provenance] = await Promise.all([
    reading(api(getRecipeRevision, { params: { id: chosen.id } })),
    reading(api(getRecipeEvidence, { params: { id: chosen.id } })),
    reading(api(getProvenance, { params: { id: chosen.id } })),
  ]);
  const { me } = await parent();
  const approval =
    chosen.status === 'draft' && may(me.person.roles, 'recipes.approve')
      ? await reading(api(getRecipeApproval, { params: { id: chosen.id } }))
      : null;
  return { recipe, uses, history, shown, approval, evidence, provenance };
};
