import { getTanksideLot } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import { lotKey } from '$lib/features/tankside/lot-refresh.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, depends }) => {
  depends(lotKey);
  return { traveler: await reading(api(getTanksideLot, { params: { id: idOf(params.lotId) } })) };
};
