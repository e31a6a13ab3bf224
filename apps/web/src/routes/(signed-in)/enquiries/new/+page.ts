import { getCustomer, listEnquiryOwners, listMaterials, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?customerId=` starts the enquiry for a customer, as from the page of the customer. */
export const load: PageLoad = async ({ url }) => {
  const id = PathId.safeParse(url.searchParams.get('customerId')).data;
  const [materials, owners, customer] = await Promise.all([
    reading(api(listMaterials, { query: { limit: 200 } })),
    reading(api(listEnquiryOwners)),
    id === undefined ? null : reading(api(getCustomer, { params: { id } })),
  ]);
  return { materials: materials.items, owners: owners.items, customer };
};
