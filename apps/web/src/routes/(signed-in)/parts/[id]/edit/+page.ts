import { idOf } from '$lib/load.ts';
import { partToEdit } from '$lib/features/parts/load-part.ts';
import type { PageLoad } from './$types';

export const load: PageLoad = ({ params }) => partToEdit(idOf(params.id));
