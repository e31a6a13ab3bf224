import { getDeliverySheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?shipment=` says for which; others of the customer may go with it. */
export const load: PageLoad = async ({ url }) => {
  const id = idOf(url.searchParams.get('shipment') ?? '');
  return { shipmentId: id, sheet: await reading(api(getDeliverySheet, { params: { id } })) };
};
