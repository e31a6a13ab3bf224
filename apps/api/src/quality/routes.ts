import certificates from './certificates/routes.ts';
import colourCatalogue from './colour-catalogue/routes.ts';
import colourReadings from './colour-readings/routes.ts';
import impactAssessments from './impact-assessments/routes.ts';
import inspection from './inspection/routes.ts';
import lookBack from './look-back/routes.ts';
import inspectionPlans from './inspection-plans/routes.ts';
import nonconformances from './nonconformances/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const quality = [
  certificates,
  colourCatalogue,
  colourReadings,
  impactAssessments,
  inspection,
  inspectionPlans,
  lookBack,
  nonconformances,
];
