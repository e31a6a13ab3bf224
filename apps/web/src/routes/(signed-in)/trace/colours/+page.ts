import { getTraceChoices, searchColours } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const parsed = searchColours.query.safeParse(queryFrom(url, searchColours));
  const query = parsed.success ? parsed.data : {};
  const [found, choices] = await Promise.all([
    reading(api(searchColours, { query })),
    reading(api(getTraceChoices)),
  ]);
  return { query, found, recipes: choices.recipes };
};
