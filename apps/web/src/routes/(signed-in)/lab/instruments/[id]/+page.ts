import { getInstrument, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [record, history] = await Promise.all([
    reading(api(getInstrument, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'instrument', id } })),
  ]);
  return { record, history };
};
