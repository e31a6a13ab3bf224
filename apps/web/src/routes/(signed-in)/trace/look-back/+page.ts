import { getLookBackChoices, lookBack, LookBackKind } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?kind=` offers the records of a kind, `?about=bath-6` looks back from one of them. */
export const load: PageLoad = async ({ url }) => {
  const query = lookBack.query.safeParse(queryFrom(url, lookBack)).data ?? null;
  const named = query?.about.slice(0, query.about.lastIndexOf('-'));
  const kind = LookBackKind.safeParse(url.searchParams.get('kind') ?? named).data ?? 'bath';
  // Another kind was chosen since: the record of the former one is asked about no longer.
  const asked = query !== null && named === kind ? query : null;
  const [choices, found] = await Promise.all([
    reading(api(getLookBackChoices, { query: { kind } })),
    asked === null ? null : reading(api(lookBack, { query: asked })),
  ]);
  return { kind, asked, choices: choices.items, found };
};
