/** What a unit measures; only units of one dimension convert into each other. */
export type Dimension =
  | 'length'
  | 'area'
  | 'volume'
  | 'mass'
  | 'temperature'
  | 'temperature difference'
  | 'time'
  | 'current density'
  | 'charge density'
  | 'concentration'
  | 'density'
  | 'conductivity'
  | 'volume flow'
  | 'mass flow'
  | 'volume per area'
  | 'mass per area'
  | 'growth per time'
  | 'share'
  | 'voltage'
  | 'current'
  | 'power'
  | 'energy';

export interface UnitInfo {
  /** As printed. */
  symbol: string;
  dimension: Dimension;
  /** How many of the dimension's base unit one of this is; the base unit is the one with factor 1. */
  factor: number;
  /** Value on this scale where the base scale reads zero (temperature only). */
  offset?: number;
}

// Exact by definition since 1959: inch 25.4 mm, pound 0.453 592 37 kg, US gallon 231 cubic inches
// (NIST Handbook 44, appendix C; NIST Special Publication 811, appendix B).
const MM_PER_INCH = 25.4;
const MM2_PER_FOOT2 = 92903.04;
const M2_PER_FOOT2 = 0.09290304;
const KG_PER_POUND = 0.45359237;
const G_PER_OUNCE = 28.349523125;
const L_PER_GALLON = 3.785411784;

/**
 * Every unit the package converts, by a plain-text key. Factors are exact definitions or ratios of them, not rounded
 * tables. Gallon and ounce are the US liquid gallon and the avoirdupois ounce.
 */
export const UNITS = {
  nm: { symbol: 'nm', dimension: 'length', factor: 1e-6 },
  um: { symbol: 'µm', dimension: 'length', factor: 1e-3 },
  mm: { symbol: 'mm', dimension: 'length', factor: 1 },
  cm: { symbol: 'cm', dimension: 'length', factor: 10 },
  m: { symbol: 'm', dimension: 'length', factor: 1000 },
  mil: { symbol: 'mil', dimension: 'length', factor: MM_PER_INCH / 1000 },
  in: { symbol: 'in', dimension: 'length', factor: MM_PER_INCH },
  ft: { symbol: 'ft', dimension: 'length', factor: 12 * MM_PER_INCH },

  mm2: { symbol: 'mm²', dimension: 'area', factor: 1 },
  cm2: { symbol: 'cm²', dimension: 'area', factor: 100 },
  dm2: { symbol: 'dm²', dimension: 'area', factor: 10_000 },
  m2: { symbol: 'm²', dimension: 'area', factor: 1_000_000 },
  in2: { symbol: 'in²', dimension: 'area', factor: 645.16 },
  ft2: { symbol: 'ft²', dimension: 'area', factor: MM2_PER_FOOT2 },

  mm3: { symbol: 'mm³', dimension: 'volume', factor: 1e-6 },
  cm3: { symbol: 'cm³', dimension: 'volume', factor: 1e-3 },
  mL: { symbol: 'mL', dimension: 'volume', factor: 1e-3 },
  L: { symbol: 'L', dimension: 'volume', factor: 1 },
  m3: { symbol: 'm³', dimension: 'volume', factor: 1000 },
  in3: { symbol: 'in³', dimension: 'volume', factor: L_PER_GALLON / 231 },
  gal: { symbol: 'gal', dimension: 'volume', factor: L_PER_GALLON },

  g: { symbol: 'g', dimension: 'mass', factor: 1e-3 },
  kg: { symbol: 'kg', dimension: 'mass', factor: 1 },
  oz: { symbol: 'oz', dimension: 'mass', factor: G_PER_OUNCE / 1000 },
  lb: { symbol: 'lb', dimension: 'mass', factor: KG_PER_POUND },

  degC: { symbol: '°C', dimension: 'temperature', factor: 1 },
  degF: { symbol: '°F', dimension: 'temperature', factor: 5 / 9, offset: 32 },
  kelvin: { symbol: 'K', dimension: 'temperature', factor: 1, offset: 273.15 },
  deltaK: { symbol: 'K', dimension: 'temperature difference', factor: 1 },
  deltaF: { symbol: '°F', dimension: 'temperature difference', factor: 5 / 9 },

  s: { symbol: 's', dimension: 'time', factor: 1 },
  min: { symbol: 'min', dimension: 'time', factor: 60 },
  h: { symbol: 'h', dimension: 'time', factor: 3600 },

  APerM2: { symbol: 'A/m²', dimension: 'current density', factor: 1 },
  APerDm2: { symbol: 'A/dm²', dimension: 'current density', factor: 100 },
  mAPerCm2: { symbol: 'mA/cm²', dimension: 'current density', factor: 10 },
  APerFt2: { symbol: 'A/ft²', dimension: 'current density', factor: 1 / M2_PER_FOOT2 },

  CPerM2: { symbol: 'C/m²', dimension: 'charge density', factor: 1 },
  CPerDm2: { symbol: 'C/dm²', dimension: 'charge density', factor: 100 },
  AMinPerDm2: { symbol: 'A·min/dm²', dimension: 'charge density', factor: 6000 },
  AMinPerFt2: { symbol: 'A·min/ft²', dimension: 'charge density', factor: 60 / M2_PER_FOOT2 },

  gPerL: { symbol: 'g/L', dimension: 'concentration', factor: 1 },
  ozPerGal: { symbol: 'oz/gal', dimension: 'concentration', factor: G_PER_OUNCE / L_PER_GALLON },

  kgPerM3: { symbol: 'kg/m³', dimension: 'density', factor: 1 },
  gPerMl: { symbol: 'g/mL', dimension: 'density', factor: 1000 },
  gPerCm3: { symbol: 'g/cm³', dimension: 'density', factor: 1000 },
  lbPerIn3: { symbol: 'lb/in³', dimension: 'density', factor: (231_000 * KG_PER_POUND) / L_PER_GALLON },
  lbPerGal: { symbol: 'lb/gal', dimension: 'density', factor: (1000 * KG_PER_POUND) / L_PER_GALLON },

  SPerM: { symbol: 'S/m', dimension: 'conductivity', factor: 1 },
  mSPerCm: { symbol: 'mS/cm', dimension: 'conductivity', factor: 0.1 },
  SPerCm: { symbol: 'S/cm', dimension: 'conductivity', factor: 100 },

  LPerH: { symbol: 'L/h', dimension: 'volume flow', factor: 1 },
  LPerMin: { symbol: 'L/min', dimension: 'volume flow', factor: 60 },
  galPerH: { symbol: 'gal/h', dimension: 'volume flow', factor: L_PER_GALLON },
  galPerMin: { symbol: 'gal/min', dimension: 'volume flow', factor: 60 * L_PER_GALLON },

  kgPerH: { symbol: 'kg/h', dimension: 'mass flow', factor: 1 },
  lbPerH: { symbol: 'lb/h', dimension: 'mass flow', factor: KG_PER_POUND },

  LPerM2: { symbol: 'L/m²', dimension: 'volume per area', factor: 1 },
  mLPerDm2: { symbol: 'mL/dm²', dimension: 'volume per area', factor: 0.1 },
  galPer1000Ft2: {
    symbol: 'gal/1000 ft²',
    dimension: 'volume per area',
    factor: L_PER_GALLON / (1000 * M2_PER_FOOT2),
  },

  gPerM2: { symbol: 'g/m²', dimension: 'mass per area', factor: 1 },
  gPerDm2: { symbol: 'g/dm²', dimension: 'mass per area', factor: 100 },
  ozPerFt2: { symbol: 'oz/ft²', dimension: 'mass per area', factor: G_PER_OUNCE / M2_PER_FOOT2 },

  mmPerYear: { symbol: 'mm/a', dimension: 'growth per time', factor: 1 },
  milPerYear: { symbol: 'mil/a', dimension: 'growth per time', factor: MM_PER_INCH / 1000 },

  one: { symbol: '', dimension: 'share', factor: 1 },
  percent: { symbol: '%', dimension: 'share', factor: 0.01 },
  weightPercent: { symbol: 'wt%', dimension: 'share', factor: 0.01 },

  V: { symbol: 'V', dimension: 'voltage', factor: 1 },
  A: { symbol: 'A', dimension: 'current', factor: 1 },
  kW: { symbol: 'kW', dimension: 'power', factor: 1 },
  kWh: { symbol: 'kWh', dimension: 'energy', factor: 1 },
} as const satisfies Record<string, UnitInfo>;

/** Key of a unit in {@link UNITS}. */
export type Unit = keyof typeof UNITS;

export const UNIT_NAMES = Object.keys(UNITS) as Unit[];
