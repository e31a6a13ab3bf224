import { redirect } from '@sveltejs/kit';
import { getMe, getSetUpState } from '@huelot/contracts';
import { api, ApiProblem } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { LayoutLoad } from './$types';

export const load: LayoutLoad = async ({ url, untrack }) => {
  try {
    const me = await api(getMe);
    if (me.lacksSecondFactor && url.pathname !== '/account/security') redirect(307, '/account/security');
    return { me };
  } catch (error) {
    if (!(error instanceof ApiProblem) || error.code !== 'not-signed-in')
      return reading(Promise.reject(error as Error));
    const { setUp } = await reading(api(getSetUpState));
    const here = untrack(() => url.pathname + url.search);
    redirect(307, setUp ? `/sign-in?next=${encodeURIComponent(here)}` : '/first-admin');
  }
};
