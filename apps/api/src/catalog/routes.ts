import colourStandards from './colour-standards/routes.ts';
import competence from './competence/routes.ts';
import customers from './customers/routes.ts';
import equipment from './equipment/routes.ts';
import materials from './materials/routes.ts';
import parts from './parts/routes.ts';
import rates from './rates/routes.ts';
import settings from './settings/routes.ts';

/** The rooms of this wing, as the app registers them; recipes are handed what checks their evidence. */
export const catalog = [colourStandards, competence, customers, equipment, materials, parts, rates, settings];
