import { getBathColour, getBathPage, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [page, colour, history] = await Promise.all([
    reading(api(getBathPage, { params: { id } })),
    reading(api(getBathColour, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'bath', id } })),
  ]);
  return { ...page, colour, history };
};
