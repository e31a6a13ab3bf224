import { getAnalysis, listBathHolds, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [analysis, history] = await Promise.all([
    reading(api(getAnalysis, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'analysis', id } })),
  ]);
  const { items } = await reading(
    api(listBathHolds, { params: { id: analysis.bath.id }, query: { limit: 20 } }),
  );
  return { analysis, history, confirms: items.filter(({ confirmedBy }) => confirmedBy?.id === id) };
};
