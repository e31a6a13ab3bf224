import { redirect } from '@sveltejs/kit';
import { findTraveler } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** Where the code on a printed traveler leads: to the tank, unless the paper has been superseded. */
export const load: PageLoad = async ({ params }) => {
  const query = { number: params.number, revision: Number(params.revision) };
  const found = await reading(api(findTraveler, { params: query }));
  if (found.current?.id === found.traveler.id) redirect(307, `/tankside/${found.traveler.lotId}`);
  return found;
};
