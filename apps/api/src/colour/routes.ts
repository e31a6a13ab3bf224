import calibrations from './calibrations/routes.ts';
import coupons from './coupons/routes.ts';
import evidence from './evidence/routes.ts';
import filmMeasurements from './film-measurements/routes.ts';
import exposureTests from './exposure-tests/routes.ts';
import polarizationScans from './polarization-scans/routes.ts';
import processFiles from './process-files/routes.ts';
import processMaps from './process-maps/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const colour = [
  calibrations,
  coupons,
  evidence,
  filmMeasurements,
  exposureTests,
  polarizationScans,
  processFiles,
  processMaps,
];
