import type { Table } from '../interpolate.ts';
import type { DissolvedSalt } from '../solutes.ts';

/**
 * Strength, as a mass fraction, at which the first solid appears, [°C, mass fraction]. KOH: 97, 107 and 112 g per
 * 100 g of water at 0, 15 and 20 °C, evidence P (two sources agree). NaOH: 50 wt% freezes at about 14 °C
 * (producer), 52.2 wt% at 20 °C, 75.8 wt% at 80 °C, evidence P.
 */
export const saturationOf: Readonly<Record<'KOH' | 'NaOH', Table>> = {
  KOH: [[0, 0.4924], [15, 0.5169], [20, 0.5283]],
  NaOH: [[14, 0.5], [20, 0.522], [80, 0.758]],
};

/**
 * Mass fraction beyond which nothing at -20 to 200 °C is a liquid any more, only a wet solid: the highest solubility
 * in water anywhere in that range, rounded up. Sodium carbonate: 33 wt% near 35 °C, falling again above. From
 * memory of the handbook tables, evidence M; a guard, not a solubility. The acids mix with water in any proportion.
 */
export const liquidEndsAt: Readonly<Record<DissolvedSalt, number>> = {
  KOH: 0.85, NaOH: 0.85, H2SO4: 1, H3PO4: 1, Na3PO4: 0.5, K2CO3: 0.75, Na2CO3: 0.35, NH4_2SO4: 0.6, Al2_SO4_3: 0.5,
};
