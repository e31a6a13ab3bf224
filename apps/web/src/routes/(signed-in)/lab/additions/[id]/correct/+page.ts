import { loadAddition } from '$lib/features/additions/load-addition.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = ({ params }) => loadAddition(params.id);
