import { redirect } from '@sveltejs/kit';
import { getMe, getSetUpState } from '@huelot/contracts';
import { api, ApiProblem } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { LayoutLoad } from './$types';

export const load: LayoutLoad = async ({ url, untrack }) => {
  try {
    return { me: await api(getMe) };
  } catch (error) {
    if (!(error instanceof ApiProblem) || error.code !== 'not-signed-in')
      return reading(Promise.reject(error as Error));
    const { setUp } = await reading(api(getSetUpState));
    const here = untrack(() => url.pathname + url.search);
    redirect(307, setUp ? `/sign-in?next=${encodeURIComponent(here)}` : '/first-admin');
  }
};
