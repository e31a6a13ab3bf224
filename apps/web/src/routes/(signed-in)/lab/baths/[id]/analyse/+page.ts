import { AnalysisReason, getAnalysisSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, url }) => {
  const asked = AnalysisReason.safeParse(url.searchParams.get('why'));
  return {
    why: asked.success ? asked.data : null,
    sheet: await reading(api(getAnalysisSheet, { params: { id: idOf(params.id) } })),
  };
};
