import deliveries from './deliveries/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const billing = [deliveries];
