import { getNonconformance, getUnusualFactors } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [nonconformance, found] = await Promise.all([
    reading(api(getNonconformance, { params: { id } })),
    reading(api(getUnusualFactors, { params: { id } })),
  ]);
  return { nonconformance, found };
};
