import { listCertificates } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listCertificates.query.safeParse(queryFrom(url, listCertificates)).data ?? {};
  return { query, certificates: await reading(api(listCertificates, { query })) };
};
