import { redirect } from '@sveltejs/kit';
import { getSetUpState } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ url }) => {
  const { setUp } = await reading(api(getSetUpState));
  if (!setUp) redirect(307, '/first-admin');
  return { next: ownPath(url.searchParams.get('next')) };
};

/** Only an address inside this app: a crafted link must not carry anybody elsewhere after sign-in. */
function ownPath(next: string | null): string {
  return next !== null && /^\/(?![/\\])/.test(next) ? next : '/today';
}
