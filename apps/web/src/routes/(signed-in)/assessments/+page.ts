import { listAssessmentOffers, listAssessments } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import { session } from '$lib/session.svelte.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listAssessments.query.safeParse(queryFrom(url, listAssessments)).data ?? {};
  const [assessments, offers] = await Promise.all([
    reading(api(listAssessments, { query })),
    session.may('inspection.write') ? reading(api(listAssessmentOffers)) : null,
  ]);
  return { query, assessments, offers: offers?.items ?? [] };
};
