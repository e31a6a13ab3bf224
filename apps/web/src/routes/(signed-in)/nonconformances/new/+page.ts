import { getNonconformanceSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?lot=` says of what, `&hold=`, `&check=` or `&shipment=` what it is opened from, `&assessment=` what asked for it. */
export const load: PageLoad = async ({ url }) => {
  const given = (name: string) => {
    const text = url.searchParams.get(name);
    return text === null ? null : idOf(text);
  };
  const lotId = idOf(url.searchParams.get('lot') ?? '');
  const [holdId, finalCheckId, shipmentId] = [given('hold'), given('check'), given('shipment')];
  const query = {
    ...(holdId === null ? {} : { holdId }),
    ...(finalCheckId === null ? {} : { finalCheckId }),
    ...(shipmentId === null ? {} : { shipmentId }),
  };
  const sheet = await reading(api(getNonconformanceSheet, { params: { id: lotId }, query }));
  return { lotId, origin: { holdId, finalCheckId, shipmentId }, assessmentId: given('assessment'), sheet };
};
