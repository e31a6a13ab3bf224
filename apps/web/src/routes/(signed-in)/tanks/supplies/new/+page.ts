import { listTanks } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => ({
  tanks: (await reading(api(listTanks, { query: { kind: 'electrolytic', limit: 200 } }))).items,
});
