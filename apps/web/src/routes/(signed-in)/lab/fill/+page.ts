import { listTanks } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => ({
  tankId: Number(url.searchParams.get('tank')) || null,
  tanks: await reading(api(listTanks, { query: { limit: 200 } })),
});
