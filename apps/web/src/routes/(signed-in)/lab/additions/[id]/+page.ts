import { listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import { loadAddition } from '$lib/features/additions/load-addition.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [loaded, history] = await Promise.all([
    loadAddition(params.id),
    reading(api(listHistory, { params: { kind: 'addition', id: idOf(params.id) } })),
  ]);
  return { ...loaded, history };
};
