import { getEnquiry, getQuotationSheet, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?enquiry=` and `?recipe=` start the draft as the answer to an enquiry, with a colour that was chosen for it. */
export const load: PageLoad = async ({ url }) => {
  const customer = url.searchParams.get('customer');
  const enquiryId = PathId.safeParse(url.searchParams.get('enquiry')).data;
  const [sheet, enquiry] = await Promise.all([
    customer === null ? null : reading(api(getQuotationSheet, { params: { id: idOf(customer) } })),
    enquiryId === undefined ? null : reading(api(getEnquiry, { params: { id: enquiryId } })),
  ]);
  return {
    sheet,
    enquiry,
    recipeRevisionId: PathId.safeParse(url.searchParams.get('recipe')).data ?? null,
    partId: Number(url.searchParams.get('part') ?? Number.NaN),
  };
};
