import { getRack } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => ({
  rack: await reading(api(getRack, { params: { id: idOf(params.id) } })),
});
