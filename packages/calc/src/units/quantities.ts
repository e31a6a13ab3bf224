import type { Unit } from './units.ts';

/** The two ways a person may choose to see figures. */
export type SystemOfUnits = 'metric' | 'us';

export interface Shown {
  unit: Unit;
  decimals: number;
  /** For quantities that span decades: a small value gets more decimals until this many significant figures stand. */
  figures?: number;
}

export interface QuantityInfo {
  label: string;
  /** The unit figures are stored and computed in. */
  stored: Unit;
  metric: Shown;
  us: Shown;
}

const shown = (unit: Unit, decimals: number): Shown => ({ unit, decimals });
const spanning = (unit: Unit, decimals: number): Shown => ({ unit, decimals, figures: 3 });
/** Quantities the trade states in one unit on both sides of the Atlantic. */
const same = (unit: Unit, decimals: number) => ({ metric: shown(unit, decimals), us: shown(unit, decimals) });

/**
 * How each kind of figure is stored and shown. Units of display are the customary ones of metal finishing; decimals are
 * what a shop's instruments resolve.
 */
export const QUANTITIES = {
  length: { label: 'length', stored: 'mm', metric: shown('mm', 2), us: shown('in', 3) },
  equipmentLength: {
    label: 'length of equipment',
    stored: 'mm',
    metric: shown('mm', 0),
    us: shown('in', 1),
  },
  coatingThickness: { label: 'coating thickness', stored: 'um', metric: shown('um', 1), us: shown('mil', 3) },
  filmThickness: { label: 'film thickness', stored: 'nm', ...same('nm', 0) },
  area: { label: 'area', stored: 'mm2', metric: spanning('dm2', 2), us: spanning('ft2', 3) },
  smallArea: { label: 'area', stored: 'mm2', metric: spanning('cm2', 2), us: spanning('in2', 3) },
  loadArea: { label: 'area of a load', stored: 'm2', metric: spanning('dm2', 1), us: spanning('ft2', 2) },
  volume: { label: 'volume', stored: 'L', metric: spanning('L', 1), us: spanning('gal', 2) },
  meteredVolume: {
    label: 'volume that is metered in or let off',
    stored: 'L',
    metric: { ...shown('L', 1), figures: 4 },
    us: { ...shown('gal', 2), figures: 4 },
  },
  partVolume: {
    label: 'volume of a part',
    stored: 'mm3',
    metric: spanning('cm3', 2),
    us: spanning('in3', 3),
  },
  mass: { label: 'mass', stored: 'kg', metric: spanning('kg', 2), us: spanning('lb', 2) },
  partMass: { label: 'mass of a part', stored: 'kg', metric: spanning('g', 1), us: spanning('oz', 2) },
  temperature: { label: 'temperature', stored: 'degC', metric: shown('degC', 1), us: shown('degF', 1) },
  temperatureRise: {
    label: 'temperature rise',
    stored: 'deltaK',
    metric: shown('deltaK', 1),
    us: shown('deltaF', 1),
  },
  duration: { label: 'time', stored: 's', ...same('min', 1) },
  shortDuration: { label: 'time', stored: 's', ...same('s', 0) },
  currentDensity: {
    label: 'current density',
    stored: 'APerM2',
    metric: shown('APerDm2', 2),
    us: shown('APerFt2', 1),
  },
  chargeDensity: {
    label: 'charge per area',
    stored: 'CPerM2',
    metric: spanning('CPerDm2', 1),
    us: spanning('AMinPerFt2', 2),
  },
  concentration: {
    label: 'concentration',
    stored: 'gPerL',
    metric: spanning('gPerL', 1),
    us: spanning('ozPerGal', 2),
  },
  sampleDensity: {
    label: 'density of a sample',
    stored: 'kgPerM3',
    metric: shown('gPerMl', 5),
    us: shown('lbPerGal', 4),
  },
  density: { label: 'density', stored: 'kgPerM3', metric: shown('gPerMl', 4), us: shown('lbPerGal', 3) },
  metalDensity: {
    label: 'density of a metal',
    stored: 'kgPerM3',
    metric: shown('gPerCm3', 3),
    us: shown('lbPerIn3', 4),
  },
  conductivity: {
    label: 'conductivity',
    stored: 'SPerM',
    metric: spanning('mSPerCm', 1),
    us: spanning('mSPerCm', 1),
  },
  flow: { label: 'flow', stored: 'LPerH', metric: spanning('LPerH', 1), us: spanning('galPerH', 2) },
  evaporation: {
    label: 'evaporation',
    stored: 'kgPerH',
    metric: spanning('kgPerH', 2),
    us: spanning('lbPerH', 2),
  },
  dragOut: {
    label: 'drag-out',
    stored: 'LPerM2',
    metric: spanning('mLPerDm2', 2),
    us: spanning('galPer1000Ft2', 2),
  },
  consumption: {
    label: 'consumption',
    stored: 'gPerM2',
    metric: spanning('gPerDm2', 0),
    us: spanning('ozPerFt2', 0),
  },
  corrosionRate: {
    label: 'corrosion rate',
    stored: 'mmPerYear',
    metric: spanning('mmPerYear', 3),
    us: spanning('milPerYear', 2),
  },
  massFraction: { label: 'mass fraction', stored: 'one', ...same('weightPercent', 2) },
  share: { label: 'share', stored: 'one', ...same('percent', 1) },
  voltage: { label: 'voltage', stored: 'V', ...same('V', 2) },
  current: { label: 'current', stored: 'A', ...same('A', 1) },
  power: { label: 'power', stored: 'kW', ...same('kW', 2) },
  energy: { label: 'energy', stored: 'kWh', metric: spanning('kWh', 2), us: spanning('kWh', 2) },
} as const satisfies Record<string, QuantityInfo>;

/** Key of a quantity in {@link QUANTITIES}. */
export type Quantity = keyof typeof QUANTITIES;

export const QUANTITY_NAMES = Object.keys(QUANTITIES) as Quantity[];
