import { getLot, getLotColour, getLotEvidence, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [lot, evidence, history, colour] = await Promise.all([
    reading(api(getLot, { params: { id } })),
    reading(api(getLotEvidence, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'lot', id } })),
    reading(api(getLotColour, { params: { id } })),
  ]);
  return { lot, evidence, history, colour };
};
