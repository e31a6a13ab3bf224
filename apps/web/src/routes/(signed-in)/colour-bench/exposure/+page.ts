import { listExposureTests } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listExposureTests.query.parse(Object.fromEntries(url.searchParams));
  return { query, tests: await reading(api(listExposureTests, { query })) };
};
