export { writeOrder, type LineChanged } from './orders.ts';
export { settleOrder } from './queries.ts';
