export { readShop } from './shop.ts';
