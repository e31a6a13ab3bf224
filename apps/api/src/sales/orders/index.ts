export { writeOrder, type LineChanged, recordReceipt } from './orders.ts';
export { refreshOrderStatus } from './queries.ts';
export { acceptQuotation } from './accept.ts';
