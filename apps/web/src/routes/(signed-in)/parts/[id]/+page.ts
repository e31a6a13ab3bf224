import { getPart, getPartUses, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import { measurementOf } from '$lib/features/parts/load-part.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [part, uses, history] = await Promise.all([
    reading(api(getPart, { params: { id } })),
    reading(api(getPartUses, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'part', id } })),
  ]);
  return { part, uses, history, measurement: await measurementOf(part) };
};
