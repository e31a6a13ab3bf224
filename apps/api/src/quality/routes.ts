import colourCatalogue from './colour-catalogue/routes.ts';
import colourReadings from './colour-readings/routes.ts';
import inspection from './inspection/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const quality = [colourCatalogue, colourReadings, inspection];
