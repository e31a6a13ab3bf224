import { getEnquiry, listEnquiryOwners, listMaterials } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [enquiry, materials, owners] = await Promise.all([
    reading(api(getEnquiry, { params: { id: idOf(params.id) } })),
    reading(api(listMaterials, { query: { limit: 200 } })),
    reading(api(listEnquiryOwners)),
  ]);
  // Whoever answered it before stays, even where they no longer may.
  const others = owners.items.filter(({ id }) => id !== enquiry.owner.id);
  return { enquiry, materials: materials.items, owners: [enquiry.owner, ...others] };
};
