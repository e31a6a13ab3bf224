import { getProcessMap, listProcessMaps, type ProcessMap } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

const asked = (text: string | null): number | null => (text === null || text === '' ? null : idOf(text));
const mapAt = (id: number | null): Promise<ProcessMap | null> =>
  id === null ? Promise.resolve(null) : reading(api(getProcessMap, { params: { id } }));

export const load: PageLoad = async ({ url }) => {
  const { items } = await reading(api(listProcessMaps, {}));
  const id = asked(url.searchParams.get('ground')) ?? items[0]?.id ?? null;
  const [map, beside] = await Promise.all([mapAt(id), mapAt(asked(url.searchParams.get('beside')))]);
  return { grounds: items, map, beside };
};
