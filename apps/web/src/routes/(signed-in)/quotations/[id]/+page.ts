import { getQuotation, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, url }) => {
  const id = idOf(params.id);
  const revision = url.searchParams.get('revision');
  const query = revision === null ? {} : { revision: idOf(revision) };
  const [quotation, history] = await Promise.all([
    reading(api(getQuotation, { params: { id }, query })),
    reading(api(listHistory, { params: { kind: 'quotation', id } })),
  ]);
  return { quotation, history };
};
