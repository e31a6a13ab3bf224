import { getRateCard, listRateCards } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [one, cards] = await Promise.all([
    reading(api(getRateCard, { params: { id: idOf(params.id) } })),
    reading(api(listRateCards)),
  ]);
  return { ...one, cards: cards.items };
};
