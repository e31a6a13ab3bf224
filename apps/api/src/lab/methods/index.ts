export { type MethodRow, readMethod, readMethods, toMethod } from './queries.ts';
export { readTitrant, readTitrants, toTitrant } from './titrant-queries.ts';
export { addStrength, rereadTitrant, addTitrant } from './titrants.ts';
