import { getExposureSheet, getExposureTest } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [test, sheet] = await Promise.all([
    reading(api(getExposureTest, { params: { id: idOf(params.id) } })),
    reading(api(getExposureSheet)),
  ]);
  return { test, sheet };
};
