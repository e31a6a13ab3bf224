import { getCustomer, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?customerId=` starts the standard for a customer, as from the form of a part. */
export const load: PageLoad = async ({ url }) => {
  const id = PathId.safeParse(url.searchParams.get('customerId')).data;
  return { customer: id === undefined ? null : await reading(api(getCustomer, { params: { id } })) };
};
