import { listCalibrations } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listCalibrations.query.safeParse(queryFrom(url, listCalibrations)).data ?? {};
  return { query, calibrations: await reading(api(listCalibrations, { query })) };
};
