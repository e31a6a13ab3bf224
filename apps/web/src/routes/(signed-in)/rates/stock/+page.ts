import { getCurrentRates, getStockRates } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = getStockRates.query.parse(queryFrom(url, getStockRates));
  const [{ card }, stock] = await Promise.all([
    reading(api(getCurrentRates)),
    reading(api(getStockRates, { query })),
  ]);
  return { card, stock, days: query.days ?? 365 };
};
