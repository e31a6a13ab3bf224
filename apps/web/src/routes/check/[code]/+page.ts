import { checkCertificate } from '@huelot/contracts';
import { error } from '@sveltejs/kit';
import { api } from '$lib/api.ts';
import { ApiProblem } from '$lib/problem.ts';
import type { PageLoad } from './$types';

/** For whoever holds a copy of a certificate: no sign-in. */
export const load: PageLoad = async ({ params }) => {
  const code = params.code.trim().toUpperCase();
  try {
    return { code, certificate: await api(checkCertificate, { params: { code } }) };
  } catch (caught) {
    if (!(caught instanceof ApiProblem)) throw caught;
    if (caught.status === 404 || caught.status === 422) return { code, certificate: null };
    error(caught.status === 0 ? 503 : caught.status, { message: caught.detail });
  }
};
