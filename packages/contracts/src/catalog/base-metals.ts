import { z } from 'zod';

/** The metal an alloy is made of; it decides what the alloy must never be put into. */
export const BaseMetal = z.enum([
  'titanium',
  'niobium',
  'tantalum',
  'zirconium',
  'steel',
  'stainless-steel',
  'aluminium',
  'magnesium',
  'zinc',
  'copper',
  'tin',
  'nickel',
]);
export type BaseMetal = z.output<typeof BaseMetal>;

/** How people call each of them. */
export const baseMetalNames = {
  titanium: 'titanium',
  niobium: 'niobium',
  tantalum: 'tantalum',
  zirconium: 'zirconium',
  steel: 'carbon, alloy or tool steel',
  'stainless-steel': 'stainless steel',
  aluminium: 'aluminium',
  magnesium: 'magnesium',
  zinc: 'zinc, or anything galvanized',
  copper: 'copper, brass or bronze',
  tin: 'tin, or anything tinned',
  nickel: 'nickel',
} as const satisfies Record<BaseMetal, string>;
