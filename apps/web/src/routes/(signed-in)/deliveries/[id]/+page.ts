import { getDeliveryNote, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [note, history] = await Promise.all([
    reading(api(getDeliveryNote, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'delivery-note', id } })),
  ]);
  return { note, history };
};
