import { z } from 'zod';

/**
 * What a coupon showed: no film worth having; interference colours; the gold to brown of a thin dark film; a dark film
 * (black, grey); aluminium that took dye; or a fault: powdery, etched, spotted, or metal that went into the bath and coloured
 * it. Whether it protects is not among them: that is said apart.
 */
export const CouponOutcome = z.enum([
  'none',
  'interference',
  'gold-brown',
  'dark',
  'dyed',
  'powdery',
  'etched',
  'spotted',
  'bath-coloured',
]);
export type CouponOutcome = z.output<typeof CouponOutcome>;
