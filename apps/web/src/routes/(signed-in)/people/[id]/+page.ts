import { getPerson, listCompetence, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [person, competence, history] = await Promise.all([
    reading(api(getPerson, { params: { id } })),
    reading(api(listCompetence, { query: { personId: id } })),
    reading(api(listHistory, { params: { kind: 'person', id } })),
  ]);
  return { person, competence, history };
};
