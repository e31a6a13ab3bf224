import { listAssessmentOffers, listAssessments, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url, parent }) => {
  const { me } = await parent();
  const query = listAssessments.query.safeParse(queryFrom(url, listAssessments)).data ?? {};
  const [assessments, offers] = await Promise.all([
    reading(api(listAssessments, { query })),
    may(me.person.roles, 'inspection.write') ? reading(api(listAssessmentOffers)) : null,
  ]);
  return { query, assessments, offers: offers?.items ?? [] };
};
