import { error } from '@sveltejs/kit';
import { getChemical, getStockLedger, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => {
  const lotId = idOf(params.lotId);
  const [{ chemical, lots }, ledger, history] = await Promise.all([
    reading(api(getChemical, { params: { id: idOf(params.id) } })),
    reading(api(getStockLedger, { params: { id: lotId } })),
    reading(api(listHistory, { params: { kind: 'chemical-lot', id: lotId } })),
  ]);
  const lot = lots.find(({ id }) => id === lotId) ?? error(404, `${chemical.code} has no such lot.`);
  return { chemical, lot, ledger, history };
};
