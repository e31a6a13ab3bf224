export { addMaterial, addStartingLibrary, getMaterial } from './materials.ts';
export { startingLibrary } from './starting-library.ts';
export { readMaterial } from './queries.ts';
