import { getTank } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => ({
  tank: await reading(api(getTank, { params: { id: idOf(params.id) } })),
});
