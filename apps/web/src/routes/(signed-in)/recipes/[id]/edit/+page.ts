import { getRecipe } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => ({
  recipe: await reading(api(getRecipe, { params: { id: idOf(params.id) } })),
});
