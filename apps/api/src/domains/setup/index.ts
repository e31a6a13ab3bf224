export { readShop } from './queries.ts';
