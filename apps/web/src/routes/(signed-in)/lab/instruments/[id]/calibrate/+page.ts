import { getInstrument } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?replaces=` names the calibration that was written down wrongly. */
export const load: PageLoad = async ({ params, url }) => {
  const record = await reading(api(getInstrument, { params: { id: idOf(params.id) } }));
  const replaces = Number(url.searchParams.get('replaces') ?? '');
  return { record, replaced: record.calibrations.find(({ id }) => id === replaces) ?? null };
};
