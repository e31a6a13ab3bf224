import {
  getCalibration,
  getCalibrationApproval,
  getCalibrationDrift,
  listHistory,
  may,
} from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
  const id = idOf(params.id);
  const [calibration, drift, history] = await Promise.all([
    reading(api(getCalibration, { params: { id } })),
    reading(api(getCalibrationDrift, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'calibration', id } })),
  ]);
  const { me } = await parent();
  const approval =
    calibration.status === 'draft' && may(me.person.roles, 'coupons.approve')
      ? await reading(api(getCalibrationApproval, { params: { id } }))
      : null;
  return { calibration, drift, history, approval };
};
