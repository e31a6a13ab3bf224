import { type FilmEvidence, getCouponFilm, getFilmMeasurement, PathId } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** `?series=&mark=` names the coupon; `?replaces=` puts another in the place of one that was entered wrongly. */
export const load: PageLoad = async ({ url }) => {
  const replaces = PathId.safeParse(url.searchParams.get('replaces')).data;
  const replaced =
    replaces === undefined ? null : await reading(api(getFilmMeasurement, { params: { id: replaces } }));
  const id = replaced?.series.id ?? PathId.safeParse(url.searchParams.get('series')).data ?? idOf('');
  const mark = replaced?.mark ?? (url.searchParams.get('mark') ?? '').slice(0, 40);
  const { series, coupon } = await reading(api(getCouponFilm, { params: { id }, query: { mark } }));
  const kind: FilmEvidence['kind'] = replaced?.evidence.kind ?? 'cross-section';
  return { series, coupon, replaced, kind };
};
