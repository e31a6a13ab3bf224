import { listCompetence } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => ({ board: await reading(api(listCompetence)) });
