import { getTrialRun, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [run, history] = await Promise.all([
    reading(api(getTrialRun, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'trial-run', id } })),
  ]);
  return { run, history };
};
