import coupons from './coupons/routes.ts';

/** The rooms of this wing, as the app registers them. */
export const colour = [coupons];
