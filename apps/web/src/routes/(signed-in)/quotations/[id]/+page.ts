import { getQuotation, listHistory, listQuotationPapers } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, url }) => {
  const id = idOf(params.id);
  const revision = url.searchParams.get('revision');
  const query = revision === null ? {} : { revision: idOf(revision) };
  const [quotation, papers, history] = await Promise.all([
    reading(api(getQuotation, { params: { id }, query })),
    reading(api(listQuotationPapers, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'quotation', id } })),
  ]);
  return { quotation, papers: papers.items, history };
};
