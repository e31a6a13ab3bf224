import { error } from '@sveltejs/kit';
import { getQuotation, getQuotationSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const quotation = await reading(api(getQuotation, { params: { id: idOf(params.id) } }));
  if (quotation.shown.status !== 'draft')
    error(409, `${quotation.number} has no draft: make a new revision first.`);
  const sheet = await reading(api(getQuotationSheet, { params: { id: quotation.customer.id } }));
  return { quotation, sheet };
};
