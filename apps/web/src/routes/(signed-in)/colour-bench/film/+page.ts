import { listFilmMeasurements } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** Search lives in the address. */
export const load: PageLoad = async ({ url }) => {
  const query = listFilmMeasurements.query.parse(Object.fromEntries(url.searchParams));
  return { query, measurements: await reading(api(listFilmMeasurements, { query })) };
};
