import lots from './lots/routes.ts';
import travelers from './travelers/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const production = [lots, travelers];
