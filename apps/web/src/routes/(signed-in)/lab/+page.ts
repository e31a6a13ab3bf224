import { listBathBoard } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const query = listBathBoard.query.parse(queryFrom(url, listBathBoard));
  return { query, board: await reading(api(listBathBoard, { query })) };
};
