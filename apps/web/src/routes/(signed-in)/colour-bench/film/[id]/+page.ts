import { getFilmMeasurement, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [measured, history] = await Promise.all([
    reading(api(getFilmMeasurement, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'film-measurement', id } })),
  ]);
  return { measured, history };
};
