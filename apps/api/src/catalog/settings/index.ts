export { readShop } from './queries.ts';
export { openShop } from './open-shop.ts';
export { changeShop } from './shop.ts';
