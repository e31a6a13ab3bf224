import { compareRecipeRevisions, getRecipe } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?older=` and `?newer=` name revisions; without them the newest two stand side by side. */
export const load: PageLoad = async ({ params, url }) => {
  const recipe = await reading(api(getRecipe, { params: { id: idOf(params.id) } }));
  const asked = (name: string, at: number) => {
    const given = url.searchParams.get(name);
    return given === null ? (recipe.revisions[at] ?? recipe.revisions[0])?.id : idOf(given);
  };
  const id = asked('older', 1) ?? 0;
  const withId = asked('newer', 0) ?? 0;
  return {
    recipe,
    pair: await reading(api(compareRecipeRevisions, { params: { id, withId } })),
  };
};
