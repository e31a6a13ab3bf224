import { getAssessment, getAssessmentSheet, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import { session } from '$lib/session.svelte.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [assessment, history, sheet] = await Promise.all([
    reading(api(getAssessment, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'impact-assessment', id } })),
    session.may('inspection.write') ? reading(api(getAssessmentSheet, { query: {} })) : null,
  ]);
  return { assessment, history, owners: sheet?.owners ?? [] };
};
