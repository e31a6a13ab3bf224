import { getPart, getPartUses, getReworkShare, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import { measurementOf } from '$lib/features/parts/load-part.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [part, uses, history, rework] = await Promise.all([
    reading(api(getPart, { params: { id } })),
    reading(api(getPartUses, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'part', id } })),
    reading(api(getReworkShare, { params: { id } })),
  ]);
  return { part, uses, history, rework, measurement: await measurementOf(part) };
};
