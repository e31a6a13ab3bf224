import { listCalibrations, listCouponSeries, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?calibration=` begins with the law of one. */
export const load: PageLoad = async ({ url }) => {
  const query = { status: 'approved', limit: 200 } as const;
  const [calibrations, series] = await Promise.all([
    reading(api(listCalibrations, { query })),
    reading(api(listCouponSeries, { query })),
  ]);
  const asked = PathId.safeParse(url.searchParams.get('calibration')).data;
  return {
    calibrations: calibrations.items,
    series: series.items,
    first: calibrations.items.find(({ id }) => id === asked) ?? null,
  };
};
