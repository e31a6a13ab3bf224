import {
  getApprovalRules,
  getBillingDetails,
  getColourRule,
  getProcessKey,
  getShop,
  listNumberSeries,
} from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => {
  const [shop, series, billing, approvals, colourRule, processKey] = await Promise.all([
    reading(api(getShop)),
    reading(api(listNumberSeries)),
    reading(api(getBillingDetails)),
    reading(api(getApprovalRules)),
    reading(api(getColourRule)),
    reading(api(getProcessKey)),
  ]);
  return { shop, series: series.items, billing, approvals, colourRule, processKey: processKey.key };
};
