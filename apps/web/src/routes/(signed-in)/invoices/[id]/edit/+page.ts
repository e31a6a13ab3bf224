import { getInvoice, getInvoiceSheet } from '@huelot/contracts';
import { redirect } from '@sveltejs/kit';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const invoice = await reading(api(getInvoice, { params: { id } }));
  if (invoice.state !== 'draft') redirect(307, `/invoices/${id}`);
  return {
    invoice,
    sheet: await reading(api(getInvoiceSheet, { params: { id: invoice.customer.id } })),
  };
};
