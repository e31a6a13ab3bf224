import { getTraveler, listTravelerPapers } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const key = { params: { id: idOf(params.id) } };
  const [traveler, papers] = await Promise.all([
    reading(api(getTraveler, key)),
    reading(api(listTravelerPapers, key)),
  ]);
  return { traveler, papers: papers.items };
};
