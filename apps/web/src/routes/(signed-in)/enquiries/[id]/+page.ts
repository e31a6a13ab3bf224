import { getEnquiry, listColourCatalogue, listHistory } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** How many colours are suggested. */
const SUGGESTED = 6;

export const load: PageLoad = async ({ params }) => {
  const id = idOf(params.id);
  const [enquiry, history] = await Promise.all([
    reading(api(getEnquiry, { params: { id } })),
    reading(api(listHistory, { params: { kind: 'enquiry', id } })),
  ]);
  const wanted = enquiry.colour ?? enquiry.standard?.target ?? null;
  const metal = enquiry.material === null ? enquiry.baseMetal : null;
  const query = {
    ...(wanted ?? {}),
    ...(enquiry.material === null ? {} : { materialId: enquiry.material.id }),
    ...(metal === null ? {} : { baseMetal: metal }),
  };
  const found = await reading(api(listColourCatalogue, { query: { ...query, limit: SUGGESTED } }));
  const terms = Object.entries(query).map(([name, value]): [string, string] => [name, String(value)]);
  return {
    enquiry,
    history,
    colours: found.items,
    coloursHref: `/colours?${new URLSearchParams(terms)}`,
  };
};
