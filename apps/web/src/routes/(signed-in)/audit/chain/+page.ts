import { getChain, listChainSeals } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ depends }) => {
  depends('huelot:chain');
  const [chain, seals] = await Promise.all([reading(api(getChain)), reading(api(listChainSeals))]);
  return { chain, seals };
};
