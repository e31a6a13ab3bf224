import { getLetterSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?customer=` says to whom. */
export const load: PageLoad = async ({ params, url }) => {
  const id = idOf(params.id);
  const customerId = idOf(url.searchParams.get('customer') ?? '');
  return {
    id,
    customerId,
    sheet: await reading(api(getLetterSheet, { params: { id }, query: { customerId } })),
  };
};
