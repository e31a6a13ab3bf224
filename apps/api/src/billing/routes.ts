import deliveries from './deliveries/routes.ts';
import invoices from './invoices/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const billing = [deliveries, invoices];
