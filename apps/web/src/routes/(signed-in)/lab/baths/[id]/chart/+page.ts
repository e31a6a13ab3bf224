import { type BathChart, getBathChart, getBathPage, getBathWork } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { workSince } from '$lib/features/control-chart/work-since.ts';
import { dayAt } from '$lib/format/time.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?component=` names what is charted; without it the first that is watched. */
export const load: PageLoad = async ({ params, url, parent }) => {
  const { me } = await parent();
  const page = await reading(api(getBathPage, { params: { id: idOf(params.id) } }));
  const component =
    url.searchParams.get('component') ?? page.setup?.components[0]?.key ?? page.latest[0]?.component;
  if (component === undefined) return { page, chart: null, work: null };
  const chart = await reading(api(getBathChart, { params: { id: page.bath.tankId }, query: { component } }));
  return { page, chart, work: await workOf(chart, me.shop.timeZone) };
};

function workOf(chart: BathChart, timeZone: string) {
  if (chart.points.atMs.length === 0) return null;
  const at = new Date(workSince(chart)).toISOString();
  const from = dayAt({ at, timeZone });
  const { tank, component } = chart;
  return reading(api(getBathWork, { params: { id: tank.id }, query: { component, from } }));
}
