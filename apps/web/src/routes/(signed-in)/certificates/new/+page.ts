import { getCertificateSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?shipment=` says of what. */
export const load: PageLoad = async ({ url }) => {
  const id = idOf(url.searchParams.get('shipment') ?? '');
  return { sheet: await reading(api(getCertificateSheet, { params: { id } })) };
};
