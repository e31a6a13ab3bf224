import { getPowerSupply, listTanks } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [supply, tanks] = await Promise.all([
    reading(api(getPowerSupply, { params: { id: idOf(params.id) } })),
    reading(api(listTanks, { query: { kind: 'electrolytic', limit: 200 } })),
  ]);
  return { supply, tanks: tanks.items };
};
