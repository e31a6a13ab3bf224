import { getPowerSupply, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [supply, history] = await Promise.all([
    reading(api(getPowerSupply, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'supply', id } })),
  ]);
  return { supply, history };
};
