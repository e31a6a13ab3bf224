export { readOffers as readAssessmentOffers } from './causes.ts';
export { close as closeAssessment, judge as judgeLots } from './decide.ts';
export { issue as issueLetter } from './letters.ts';
export { open as openAssessment } from './open.ts';
export { readEvents as readAssessmentEvents } from './queries.ts';
