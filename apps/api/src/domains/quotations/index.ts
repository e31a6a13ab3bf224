export { acceptSentRevision, readWhole as readQuotationWhole } from './quotations.ts';
export { readCustomer as readTradingCustomer } from './sheet-queries.ts';
