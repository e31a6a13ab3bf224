import { error } from '@sveltejs/kit';
import { getChemical } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const lotId = idOf(params.lotId);
  const { chemical, lots } = await reading(api(getChemical, { params: { id: idOf(params.id) } }));
  return {
    chemical,
    lot: lots.find(({ id }) => id === lotId) ?? error(404, `${chemical.code} has no such lot.`),
  };
};
