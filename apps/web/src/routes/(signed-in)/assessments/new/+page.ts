import { getAssessmentSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?about=` begins from a look-back, `?cause=` from what the record offers; without either it is opened empty. */
export const load: PageLoad = async ({ url }) => {
  const query = getAssessmentSheet.query.safeParse(queryFrom(url, getAssessmentSheet)).data ?? {};
  return { cause: query.cause ?? null, sheet: await reading(api(getAssessmentSheet, { query })) };
};
