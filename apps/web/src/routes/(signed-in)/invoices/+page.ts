import { getInvoiceSums, listInvoiceDues, listInvoices } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listInvoices.query.safeParse(queryFrom(url, listInvoices)).data ?? {};
  const [invoices, sums, dues] = await Promise.all([
    reading(api(listInvoices, { query })),
    reading(api(getInvoiceSums)),
    reading(api(listInvoiceDues)),
  ]);
  return { query, invoices, sums: sums.items, dues: dues.items };
};
