import type { Job } from './job.ts';

/** Where a number stands in a job: `rates.labourPerHour`, `process.chemicals[].pricePerKg`. */
type NumericPath<T> = {
  [K in keyof T & string]-?: NonNullable<T[K]> extends number
    ? K
    : NonNullable<T[K]> extends string | boolean
      ? never
      : NonNullable<T[K]> extends readonly (infer U)[]
        ? `${K}[].${NumericPath<U>}`
        : `${K}.${NumericPath<NonNullable<T[K]>>}`;
}[keyof T & string];

export interface JobInput {
  label: string;
  /** As printed; `¤` stands for the currency of the rates. */
  unit: string;
  range: { min?: number; max?: number; above?: number; below?: number };
  whole?: boolean;
  /** May be left out. */
  optional?: boolean;
  /** May be null: no such limit, or not known. */
  nullable?: boolean;
}

const from0 = { min: 0 };
const above0 = { above: 0 };
const count = { range: { min: 1, max: 1_000_000 }, whole: true };
/** A share that a price or a quantity is divided by one less it. */
const partShare = { range: { min: 0, below: 1 } };

/** Where a number stands in any job, elements of lists not counted. */
export type InputPath = NumericPath<Job>;

/** Every number a price depends on: its name in words, unit and range. The compiler keeps it complete. */
export const JOB_INPUTS: Record<InputPath, JobInput> = {
  quantity: { label: 'pieces in the lot', unit: '', ...count },

  'part.areaMm2': { label: 'wetted area of a piece', unit: 'mm²', range: above0 },
  'part.electricalAreaMm2': {
    label: 'electrical area of a piece',
    unit: 'mm²',
    range: above0,
    optional: true,
  },
  'part.massKg': { label: 'mass of a piece', unit: 'kg', range: above0 },
  'part.widthMm': { label: 'width of a piece on the rack', unit: 'mm', range: above0, nullable: true },
  'part.heightMm': { label: 'height of a piece on the rack', unit: 'mm', range: above0, nullable: true },
  'part.heatCapacityJPerKgK': { label: 'heat capacity', unit: 'J/(kg K)', range: from0, optional: true },
  'part.masks[].count': {
    label: 'masked features of a piece',
    unit: '',
    range: { min: 0, max: 10_000 },
    whole: true,
  },
  'part.masks[].timeS': { label: 'time to mask and unmask a feature', unit: 's', range: from0 },
  'part.masks[].materialCost': { label: 'masking material of a feature', unit: '¤', range: from0 },

  'rack.hooks': { label: 'hooks', unit: '', ...count, nullable: true },
  'rack.windowWidthMm': { label: 'width of the rack window', unit: 'mm', range: above0, nullable: true },
  'rack.windowHeightMm': { label: 'height of the rack window', unit: 'mm', range: above0, nullable: true },
  'rack.layers': {
    label: 'layers of pieces',
    unit: '',
    range: { min: 1, max: 1000 },
    whole: true,
    optional: true,
  },
  'rack.gapMm': { label: 'gap between pieces', unit: 'mm', range: from0 },
  'rack.maxLoadKg': { label: 'load the rack carries', unit: 'kg', range: above0, nullable: true },
  'rack.massKg': { label: 'mass of the rack', unit: 'kg', range: from0, optional: true },
  'rack.bareAreaMm2': { label: 'bare area of the rack', unit: 'mm²', range: from0, optional: true },

  'limits.maxCurrentA': { label: 'current of the supply', unit: 'A', range: above0, nullable: true },
  'limits.hoistMaxKg': {
    label: 'load the hoist lifts',
    unit: 'kg',
    range: above0,
    optional: true,
    nullable: true,
  },
  'limits.bathVolumeL': {
    label: 'volume of the bath',
    unit: 'L',
    range: above0,
    optional: true,
    nullable: true,
  },
  'limits.maxAreaMm2PerL': {
    label: 'area the bath takes per litre',
    unit: 'mm²/L',
    range: above0,
    optional: true,
    nullable: true,
  },
  'limits.coolingKw': {
    label: 'cooling power of the bath',
    unit: 'kW',
    range: above0,
    optional: true,
    nullable: true,
  },
  'limits.validatedPieces': {
    label: 'pieces proved in one load',
    unit: '',
    ...count,
    optional: true,
    nullable: true,
  },

  'process.peakAPerM2': { label: 'peak current density', unit: 'A/m²', range: from0 },
  'process.chargeCPerM2': { label: 'charge per area', unit: 'C/m²', range: from0 },
  'process.averageVoltageV': { label: 'mean voltage', unit: 'V', range: from0 },
  'process.rectifierEfficiency': { label: 'efficiency of the supply', unit: '', range: { above: 0, max: 1 } },
  'process.cycleS': { label: 'line time of a load', unit: 's', range: from0 },
  'process.heatingKw': { label: 'heating and cooling power', unit: 'kW', range: from0 },
  'process.temperatureRiseK': {
    label: 'temperature rise of the pieces',
    unit: 'K',
    range: from0,
    optional: true,
  },
  'process.rinseLPerLoad': { label: 'rinse water of a load', unit: 'L', range: from0 },
  'process.chemicals[].consumptionGPerM2': { label: 'chemical used up', unit: 'g/m²', range: from0 },
  'process.chemicals[].pricePerKg': { label: 'price of the chemical', unit: '¤/kg', range: from0 },
  'process.chemicals[].dragOutLPerM2': { label: 'drag-out', unit: 'L/m²', range: from0 },
  'process.chemicals[].concentrationGPerL': { label: 'concentration of the bath', unit: 'g/L', range: from0 },
  'process.chemicals[].recoveryShare': {
    label: 'share of the drag-out recovered',
    unit: '',
    range: { min: 0, max: 1 },
  },

  'labour.setupS': { label: 'set-up and first piece', unit: 's', range: from0 },
  'labour.rackS': { label: 'racking a piece', unit: 's', range: from0 },
  'labour.unrackS': { label: 'unracking a piece', unit: 's', range: from0 },
  'labour.inspectS': { label: 'inspecting a piece', unit: 's', range: from0 },
  'labour.packS': { label: 'packing a piece', unit: 's', range: from0 },

  'charges.certificateCost': { label: 'certificate', unit: '¤', range: from0 },
  'charges.packingCost': { label: 'packing material', unit: '¤', range: from0 },
  'charges.oneOffs[].amount': { label: 'tooling or test, once', unit: '¤', range: from0 },

  'rates.labourPerHour': { label: 'labour rate', unit: '¤/h', range: from0 },
  'rates.linePerHour': { label: 'line rate', unit: '¤/h', range: from0 },
  'rates.energyPerKwh': { label: 'price of energy', unit: '¤/kWh', range: from0 },
  'rates.waterPerM3': { label: 'price of water', unit: '¤/m³', range: from0 },
  'rates.wastePerM3': { label: 'price of waste treatment', unit: '¤/m³', range: from0 },
  'rates.stripPerM2': { label: 'stripping', unit: '¤/m²', range: from0 },
  'rates.reworkShare': { label: 'rework', unit: '', ...partShare },
  'rates.overheadShare': { label: 'overhead on direct cost', unit: '', range: from0, optional: true },
  'rates.overheadPerLabourHour': {
    label: 'overhead per hour of labour',
    unit: '¤/h',
    range: from0,
    optional: true,
  },
  'rates.marginShare': { label: 'margin', unit: '', ...partShare, optional: true },
  'rates.markupShare': { label: 'markup', unit: '', range: from0, optional: true },
  'rates.minimumLot': { label: 'minimum lot charge', unit: '¤', range: from0 },
  'rates.expediteShare': { label: 'expedite', unit: '', range: from0 },

  'currency.exchangeRate': { label: 'rate of exchange', unit: '', range: above0, optional: true },
  'currency.minorDigits': {
    label: 'decimals of the currency',
    unit: '',
    range: { min: 0, max: 4 },
    whole: true,
    optional: true,
  },
};
