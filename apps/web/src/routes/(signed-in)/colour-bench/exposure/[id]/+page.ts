import { getExposureTest, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [test, history] = await Promise.all([
    reading(api(getExposureTest, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'exposure-test', id } })),
  ]);
  return { test, history };
};
