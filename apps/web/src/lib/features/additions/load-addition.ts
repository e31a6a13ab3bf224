import { getAddition, getAdditionSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';

/** An addition with the bath it belongs to, as it stands now. */
export async function loadAddition(id: string) {
  const addition = await reading(api(getAddition, { params: { id: idOf(id) } }));
  const sheet = await reading(api(getAdditionSheet, { params: { id: addition.bath.id } }));
  return { addition, sheet };
}
