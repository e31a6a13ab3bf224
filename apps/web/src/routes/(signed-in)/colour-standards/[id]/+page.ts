import { getColourStandard, getColourStandardApproval, listHistory, may } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, queryFrom, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params, parent, url }) => {
  const id = idOf(params.id);
  const query = getColourStandard.query.safeParse(queryFrom(url, getColourStandard)).data ?? {};
  const [standard, history] = await Promise.all([
    reading(api(getColourStandard, { params: { id }, query })),
    reading(api(listHistory, { params: { kind: 'colour-standard', id } })),
  ]);
  const { me } = await parent();
  const approval =
    standard.status === 'draft' && may(me.person.roles, 'standards.approve')
      ? await reading(api(getColourStandardApproval, { params: { id: standard.revisionId } }))
      : null;
  return { standard, history, approval };
};
