import { getTank, listBaths, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [tank, baths, history] = await Promise.all([
    reading(api(getTank, { params: { id } })),
    reading(api(listBaths, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'tank', id } })),
  ]);
  return { tank, baths, history };
};
