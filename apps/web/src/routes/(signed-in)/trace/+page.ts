import { getTraceChoices, searchTrace } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const parsed = searchTrace.query.safeParse(queryFrom(url, searchTrace));
  const query = parsed.success ? parsed.data : {};
  const [hits, choices] = await Promise.all([
    reading(api(searchTrace, { query })),
    reading(api(getTraceChoices)),
  ]);
  return {
    query,
    hits: { ...hits, items: hits.items.map((hit) => ({ ...hit, id: hit.signOffId })) },
    choices,
  };
};
