import { getOrder, listDeliveryNotes, listHistory, listInvoices, listLots, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
  const { me } = await parent();
  const id = idOf(params.id);
  const [order, lots, history, deliveries, invoices] = await Promise.all([
    reading(api(getOrder, { params: { id } })),
    reading(api(listLots, { query: { orderId: id, limit: 200 } })),
    reading(api(listHistory, { params: { kind: 'order', id } })),
    reading(api(listDeliveryNotes, { query: { orderId: id } })),
    may(me.person.roles, 'invoices.read')
      ? reading(api(listInvoices, { query: { orderId: id } }))
      : { items: [] },
  ]);
  return { order, lots, history, deliveries: deliveries.items, invoices: invoices.items };
};
