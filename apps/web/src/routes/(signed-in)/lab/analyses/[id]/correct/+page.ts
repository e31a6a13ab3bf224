import { getAnalysis, getAnalysisSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const analysis = await reading(api(getAnalysis, { params: { id: idOf(params.id) } }));
  const sheet = await reading(api(getAnalysisSheet, { params: { id: analysis.bath.id } }));
  return { analysis, sheet };
};
