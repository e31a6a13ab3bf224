import { getApprovalRules, getColourRule, getShop, listNumberSeries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => {
  const [shop, series, approvals, colourRule] = await Promise.all([
    reading(api(getShop)),
    reading(api(listNumberSeries)),
    reading(api(getApprovalRules)),
    reading(api(getColourRule)),
  ]);
  return { shop, series: series.items, approvals, colourRule };
};
