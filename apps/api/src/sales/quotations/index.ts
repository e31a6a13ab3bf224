export { acceptSentRevision } from './accept-sent.ts';
export { loadQuotation as readQuotationWhole } from './read-quotation.ts';
export { readCustomer as readTradingCustomer } from './sheet-queries.ts';
export { closeQuotation, freezeRevision } from './decide.ts';
export { createQuotation } from './drafts.ts';
