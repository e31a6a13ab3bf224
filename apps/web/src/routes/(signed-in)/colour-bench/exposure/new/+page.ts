import { getExposureSheet } from '@huelot/contracts';
import { api } from '$lib/api.ts';
import { reading } from '$lib/load.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = async () => ({ sheet: await reading(api(getExposureSheet)) });
