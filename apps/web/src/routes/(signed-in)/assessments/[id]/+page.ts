import { getAssessment, getAssessmentSheet, listHistory, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
  const { me } = await parent();
  const id = idOf(params.id);
  const [assessment, history, sheet] = await Promise.all([
    reading(api(getAssessment, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'impact-assessment', id } })),
    may(me.person.roles, 'inspection.write') ? reading(api(getAssessmentSheet, { query: {} })) : null,
  ]);
  return { assessment, history, owners: sheet?.owners ?? [] };
};
