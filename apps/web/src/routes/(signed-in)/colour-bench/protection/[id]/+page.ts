import { getPolarizationScan, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [scan, history] = await Promise.all([
    reading(api(getPolarizationScan, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'polarization-scan', id } })),
  ]);
  return { scan, history };
};
