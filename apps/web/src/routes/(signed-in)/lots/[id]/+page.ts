import { getLot, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [lot, history] = await Promise.all([
    reading(api(getLot, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'lot', id } })),
  ]);
  return { lot, history };
};
