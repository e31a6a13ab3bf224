import { getRack, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [rack, history] = await Promise.all([
    reading(api(getRack, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'rack', id } })),
  ]);
  return { rack, history };
};
