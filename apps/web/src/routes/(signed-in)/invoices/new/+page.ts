import { getInvoiceSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?customer=` says whose shipments; `?note=` chooses those of a delivery note. */
export const load: PageLoad = async ({ url }) => {
  const id = idOf(url.searchParams.get('customer') ?? '');
  return {
    note: url.searchParams.get('note'),
    sheet: await reading(api(getInvoiceSheet, { params: { id } })),
  };
};
