import { getInspectionPlan, getPart } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [part, plan] = await Promise.all([
    reading(api(getPart, { params: { id } })),
    reading(api(getInspectionPlan, { params: { id } })),
  ]);
  return { part, plan };
};
