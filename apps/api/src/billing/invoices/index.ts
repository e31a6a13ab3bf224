export { draft as draftInvoice, readSheet as readInvoiceSheet } from './drafts.ts';
export { credit as creditInvoice, issue as issueInvoice } from './issue.ts';
export { changeDetails as changeBillingDetails } from './details.ts';
export { pay as recordPayment } from './payments.ts';
export { view as readInvoice } from './view.ts';
