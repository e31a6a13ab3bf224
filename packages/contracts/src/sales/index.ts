export * from './enquiries.ts';
export * from './orders.ts';
export * from './quotation-drafts.ts';
export * from './quotation-sheet.ts';
export * from './quotations.ts';
