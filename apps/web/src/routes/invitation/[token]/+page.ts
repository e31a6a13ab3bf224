import { getInvitation } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async ({ params }) => ({
  token: params.token,
  invitation: await reading(api(getInvitation, { params: { token: params.token } })),
});
