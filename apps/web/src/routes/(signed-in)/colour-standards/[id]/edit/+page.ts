import { getColourStandard } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { idOf, reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

/** The draft of a standard; where there is none, the page says so. */
export const load: PageLoad = async ({ params }) => {
  const target = { params: { id: idOf(params.id) } };
  const standard = await reading(api(getColourStandard, target));
  const draft = standard.revisions.find(({ status }) => status === 'draft');
  if (draft === undefined || draft.revision === standard.revision) return { standard };
  return {
    standard: await reading(api(getColourStandard, { ...target, query: { revision: draft.revision } })),
  };
};
