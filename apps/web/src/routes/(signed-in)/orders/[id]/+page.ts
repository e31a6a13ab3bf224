import { getOrder, listDeliveryNotes, listHistory, listInvoices, listLots } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import { session } from '$lib/session.svelte.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [order, lots, history, deliveries, invoices] = await Promise.all([
    reading(api(getOrder, { params: { id } })),
    reading(api(listLots, { query: { orderId: id, limit: 200 } })),
    reading(api(listHistory, { params: { kind: 'order', id } })),
    reading(api(listDeliveryNotes, { query: { orderId: id } })),
    session.may('invoices.read') ? reading(api(listInvoices, { query: { orderId: id } })) : { items: [] },
  ]);
  return { order, lots, history, deliveries: deliveries.items, invoices: invoices.items };
};
