export * from './billing-details.ts';
export * from './deliveries.ts';
export * from './invoice-drafts.ts';
export * from './invoices.ts';
export * from './payment-booking.ts';
export * from './payments.ts';
export * from './returns.ts';
