import { getInvoice, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [invoice, history] = await Promise.all([
    reading(api(getInvoice, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'invoice', id } })),
  ]);
  return { invoice, history };
};
