import { getTrialRun } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => ({
  run: await reading(api(getTrialRun, { params: { id: idOf(params.id) } })),
});
