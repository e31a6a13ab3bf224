import {
  getCouponApproval,
  getCouponSeries,
  listCouponUses,
  listHistory,
  listTrialRuns,
  may,
} from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent }) => {
  const id = idOf(params.id);
  const [series, uses, history] = await Promise.all([
    reading(api(getCouponSeries, { params: { id } })),
    reading(api(listCouponUses, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'coupons', id } })),
  ]);
  const runs = await reading(
    api(listTrialRuns, { query: { seriesCode: series.code, state: 'all', limit: 200 } }),
  );
  const { me } = await parent();
  const approval =
    series.status === 'draft' && may(me.person.roles, 'coupons.approve')
      ? await reading(api(getCouponApproval, { params: { id } }))
      : null;
  return { series, uses, history, approval, runs: runs.items };
};
