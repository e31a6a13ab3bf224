import { AdditionKind, getAdditionSheet, getTank } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, url }) => {
  const sheet = await reading(api(getAdditionSheet, { params: { id: idOf(params.id) } }));
  const tank = await reading(api(getTank, { params: { id: sheet.bath.tankId } }));
  const kind = AdditionKind.safeParse(url.searchParams.get('kind'));
  return {
    sheet,
    tank,
    kind: kind.success ? kind.data : null,
    fromAnalysisId: Number(url.searchParams.get('from')) || null,
  };
};
