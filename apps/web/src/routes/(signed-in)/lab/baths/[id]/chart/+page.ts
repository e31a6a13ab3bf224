import { getBathChart, getBathPage } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?component=` names what is charted; without it the first that is watched. */
export const load: PageLoad = async ({ params, url }) => {
  const page = await reading(api(getBathPage, { params: { id: idOf(params.id) } }));
  const component =
    url.searchParams.get('component') ?? page.setup?.components[0]?.key ?? page.latest[0]?.component;
  const chart =
    component === undefined
      ? null
      : await reading(api(getBathChart, { params: { id: page.bath.tankId }, query: { component } }));
  return { page, chart };
};
