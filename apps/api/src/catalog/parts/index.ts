export { getPart } from './part.ts';
export { addPart } from './save-part.ts';
export { getMeasurement, measureFile } from './measurements.ts';
export { openMeasuring } from './measuring.ts';
