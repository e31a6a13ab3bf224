export { getPart } from './part.ts';
