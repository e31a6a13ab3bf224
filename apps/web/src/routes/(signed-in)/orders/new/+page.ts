import { getOrderSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const customer = url.searchParams.get('customer');
  return {
    sheet: customer === null ? null : await reading(api(getOrderSheet, { params: { id: idOf(customer) } })),
  };
};
