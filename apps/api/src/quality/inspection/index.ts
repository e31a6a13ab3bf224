export { finalCheck, shipLots } from './inspection.ts';
