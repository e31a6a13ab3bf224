import { listInstruments, listTitrants } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?finished=` asks for bottles that are used up. */
export const load: PageLoad = async ({ url }) => {
  const query = listInstruments.query.safeParse(queryFrom(url, listInstruments)).data ?? {};
  const finished = listTitrants.query.safeParse(queryFrom(url, listTitrants)).data?.finished;
  const [instruments, titrants] = await Promise.all([
    reading(api(listInstruments, { query })),
    reading(api(listTitrants, { query: { finished, limit: 200 } })),
  ]);
  return { query, instruments, titrants };
};
