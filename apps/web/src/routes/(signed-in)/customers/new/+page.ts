import { getEnquiry, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?enquiry=` makes a customer of whoever asked, and goes on to the quotation. */
export const load: PageLoad = async ({ url }) => {
  const id = PathId.safeParse(url.searchParams.get('enquiry')).data;
  return { enquiry: id === undefined ? null : await reading(api(getEnquiry, { params: { id } })) };
};
