import { getCurrentRates, getStockRates } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?chemicals=365` begins with the chemicals as the stock told them in so many days. */
export const load: PageLoad = async ({ url }) => {
  const days = url.searchParams.get('chemicals');
  const { card } = await reading(api(getCurrentRates));
  if (days === null) return { card, stock: null };
  const query = getStockRates.query.parse({ days });
  return { card, stock: await reading(api(getStockRates, { query })) };
};
