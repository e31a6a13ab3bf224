import { getPerson } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => ({
  person: await reading(api(getPerson, { params: { id: idOf(params.id) } })),
});
