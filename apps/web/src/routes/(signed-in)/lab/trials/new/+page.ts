import { getCouponSeries, listPowerSupplies, listTanks } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const id = idOf(url.searchParams.get('series') ?? '');
  const [series, tanks, supplies] = await Promise.all([
    reading(api(getCouponSeries, { params: { id } })),
    reading(api(listTanks, { query: { limit: 200 } })),
    reading(api(listPowerSupplies, { query: { limit: 200 } })),
  ]);
  return { series, tanks: tanks.items, supplies: supplies.items, proposed: proposedIn(url.searchParams) };
};

/** What a map proposes to run; a figure that is none is left to the form. */
function proposedIn(search: URLSearchParams) {
  const figure = (name: string) => {
    const value = Number(search.get(name) ?? NaN);
    return Number.isFinite(value) ? value : undefined;
  };
  return {
    temperatureC: figure('temperatureC'),
    voltageV: figure('voltageV'),
    timeS: figure('timeS'),
    coatingThicknessUm: figure('coatingThicknessUm'),
  };
}
