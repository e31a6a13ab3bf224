/**
 * Specific heat in J/(kg K). Carbon steel: engineering table of metals; iron, titanium, niobium, tantalum,
 * zirconium, aluminium, copper, nickel: CRC Handbook; stainless steel and polypropylene: material property
 * collection. Evidence P. A second table has 540 for titanium.
 */
export const specificHeat = {
  'carbon steel': 490,
  iron: 449,
  'stainless steel': 500,
  titanium: 524,
  niobium: 265,
  tantalum: 140,
  zirconium: 278,
  aluminium: 897,
  copper: 385,
  nickel: 444,
  polypropylene: 1700,
} as const;

export type SolidMaterial = keyof typeof specificHeat;
