export { checkCompetence } from './gate.ts';
export { grant as grantCompetence } from './competence.ts';
