import { listPowerSupplies } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listPowerSupplies.query.safeParse(queryFrom(url, listPowerSupplies)).data ?? {};
  return { query, supplies: await reading(api(listPowerSupplies, { query })) };
};
