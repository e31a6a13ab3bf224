import { getCurrentRates, listRateCards } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => {
  const [current, cards] = await Promise.all([reading(api(getCurrentRates)), reading(api(listRateCards))]);
  return { ...current, cards: cards.items };
};
