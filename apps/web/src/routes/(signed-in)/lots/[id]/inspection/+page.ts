import { getLot, getLotInspection, listInstruments } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [lot, inspection, { items: instruments }] = await Promise.all([
    reading(api(getLot, { params: { id } })),
    reading(api(getLotInspection, { params: { id } })),
    reading(api(listInstruments, { query: { limit: 200 } })),
  ]);
  return { lot, inspection, instruments };
};
