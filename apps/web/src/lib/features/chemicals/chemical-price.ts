import { priceText } from '$lib/features/rates/rate-fields.ts';
import { format } from '$lib/format/format.ts';
import { session } from '$lib/session.svelte.ts';

/** The price of a chemical as the person reads it: exact per kilogram, or what that comes to per pound. */
export const chemicalPrice = (pricePerKg: string): string =>
  session.units === 'us' ? priceText(Number(pricePerKg), 'kg') : `${format.money(pricePerKg)}/kg`;
