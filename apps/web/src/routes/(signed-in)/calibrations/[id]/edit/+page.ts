import { calibratedMetals, getCalibration, listCouponSeries } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const [calibration, { items }] = await Promise.all([
    reading(api(getCalibration, { params: { id: idOf(params.id) } })),
    reading(api(listCouponSeries, { query: { status: 'all', limit: 200 } })),
  ]);
  const metals: readonly string[] = calibratedMetals;
  // A series that was superseded since stays where it is cited.
  const series = items.filter(
    ({ id, status, material }) =>
      metals.includes(material.baseMetal) && (status === 'approved' || calibration.seriesIds.includes(id)),
  );
  return { calibration, series };
};
