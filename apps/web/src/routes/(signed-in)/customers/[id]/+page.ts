import { getCustomer, listHistory, listInvoices, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
  const { me } = await parent();
  const id = idOf(params.id);
  const [customer, history, invoices] = await Promise.all([
    reading(api(getCustomer, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'customer', id } })),
    may(me.person.roles, 'invoices.read')
      ? reading(api(listInvoices, { query: { customerId: id, limit: 10 } }))
      : null,
  ]);
  return { customer, history, invoices };
};
