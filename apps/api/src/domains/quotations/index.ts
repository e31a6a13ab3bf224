export { acceptSentRevision } from './accept-sent.ts';
export { readWhole as readQuotationWhole } from './read-quotation.ts';
export { readCustomer as readTradingCustomer } from './sheet-queries.ts';
