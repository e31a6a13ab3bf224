export { readStoppedBaths } from './stopped-baths.ts';
