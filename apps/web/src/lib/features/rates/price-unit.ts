import { convert, type SystemOfUnits, type Unit } from '@huelot/calc';

/** What a price is for: a price of a measured amount stands per metric unit on the card. */
export type PricePer = 'h' | 'kWh' | 'lot' | 'feature' | 'm²' | 'm³' | 'kg';

interface UsUnit {
  name: string;
  /** What stands on the card and what is shown, and how many of it. */
  from: Unit;
  to: Unit;
  count: number;
}
// Water and its treatment are billed by the thousand gallons in the United States: common practice, no source.
const usUnits: Partial<Record<PricePer, UsUnit>> = {
  'm²': { name: 'ft²', from: 'ft2', to: 'm2', count: 1 },
  'm³': { name: '1000 gal', from: 'gal', to: 'm3', count: 1000 },
  kg: { name: 'lb', from: 'lb', to: 'kg', count: 1 },
};

/**
 * How the person reads a price: the unit, and by how much a price on the card is multiplied for it.
 *
 * @example
 * priceUnitOf('kg', 'us') // { name: 'lb', factor: 0.45359237 }
 */
export function priceUnitOf(per: PricePer, system: SystemOfUnits): { name: string; factor: number } {
  const us = system === 'us' ? usUnits[per] : undefined;
  return us === undefined
    ? { name: per, factor: 1 }
    : { name: us.name, factor: convert({ value: us.count, from: us.from, to: us.to }) };
}

/** Digits that a price keeps when its unit is changed: more are the noise of the conversion. */
const DIGITS = 10;
/** A price of the card as the person reads it. */
export const shownPrice = (value: number, factor: number): number =>
  factor === 1 ? value : Number((value * factor).toPrecision(DIGITS));
/** A price that the person typed, as it goes onto the card. */
export const storedPrice = (value: number, factor: number): number =>
  factor === 1 ? value : Number((value / factor).toPrecision(DIGITS + 2));
