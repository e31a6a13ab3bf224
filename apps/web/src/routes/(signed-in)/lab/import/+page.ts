import { getBathPage, listBathBoard } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?bath=` names the fill whose notebook is brought. */
export const load: PageLoad = async ({ url }) => {
  const asked = url.searchParams.get('bath');
  const [board, page] = await Promise.all([
    reading(api(listBathBoard, { query: { fills: 'all', limit: 200 } })),
    asked === null ? null : reading(api(getBathPage, { params: { id: idOf(asked) } })),
  ]);
  return { baths: board.items, page };
};
