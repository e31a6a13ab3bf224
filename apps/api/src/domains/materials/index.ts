export { addStartingLibrary, getMaterial } from './materials.ts';
export { readMaterial } from './queries.ts';
