import { getCustomer, listHistory, listInvoices } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import { session } from '$lib/session.svelte.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [customer, history, invoices] = await Promise.all([
    reading(api(getCustomer, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'customer', id } })),
    session.may('invoices.read')
      ? reading(api(listInvoices, { query: { customerId: id, limit: 10 } }))
      : null,
  ]);
  return { customer, history, invoices };
};
