import { groupDigits, Family, familyNames, type FamilyRates, type RateCard } from '@huelot/contracts';
import type { Quantity } from '@huelot/calc';
import { sameValue, valueAt } from '$lib/forms/path.ts';
import { session } from '$lib/session.svelte.ts';
import { format } from '$lib/format/format.ts';
import { priceUnitOf, type PricePer } from './price-unit.ts';

/** One figure of a rate card: where it stands, and how people read it. */
export interface RateField {
  path: string;
  label: string;
  hint?: string;
  /** A price per something, a figure in the person's units, or pieces. */
  as: { price: PricePer } | { quantity: Quantity };
}
export interface RateGroup {
  title: string;
  lead?: string;
  fields: readonly RateField[];
}

const price = (per: PricePer) => ({ price: per });
const figure = (quantity: Quantity) => ({ quantity });

const general: readonly RateGroup[] = [
  {
    title: 'Prices of the shop',
    fields: [
      { path: 'labourPerHour', label: 'Labour', as: price('h') },
      { path: 'energyPerKwh', label: 'Energy', as: price('kWh') },
      { path: 'waterPerM3', label: 'Water', as: price('m³') },
      {
        path: 'wastePerM3',
        label: 'Waste treatment',
        hint: 'Usually two to three times the water price',
        as: price('m³'),
      },
    ],
  },
  {
    title: 'From cost to price',
    lead: 'In this order: overhead, margin, at least the minimum lot charge, expedite.',
    fields: [
      { path: 'overheadShare', label: 'Overhead on direct cost', as: figure('share') },
      { path: 'overheadPerLabourHour', label: 'Overhead by labour', as: price('h') },
      {
        path: 'marginShare',
        label: 'Margin',
        hint: 'Of the price, not of the cost: 30 % of the price is a markup of 42.9 %',
        as: figure('share'),
      },
      { path: 'minimumLot', label: 'Minimum lot charge', as: price('lot') },
      { path: 'expediteShare', label: 'Expedite', as: figure('share') },
    ],
  },
  {
    title: 'Default times and charges',
    fields: [
      { path: 'labour.setupS', label: 'Set-up and first piece', as: figure('duration') },
      { path: 'labour.rackS', label: 'Racking per piece', as: figure('shortDuration') },
      { path: 'labour.unrackS', label: 'Unracking per piece', as: figure('shortDuration') },
      { path: 'labour.inspectS', label: 'Inspection per piece', as: figure('shortDuration') },
      { path: 'labour.packS', label: 'Packing per piece', as: figure('shortDuration') },
      {
        path: 'masking.timeS',
        label: 'Masking per feature',
        hint: 'Including removal',
        as: figure('shortDuration'),
      },
      { path: 'masking.materialCost', label: 'Masking material', as: price('feature') },
      { path: 'charges.certificateCost', label: 'Certificate', as: price('lot') },
      { path: 'charges.packingCost', label: 'Packing material', as: price('lot') },
    ],
  },
];

type FamilyPath = keyof Omit<FamilyRates, 'chemical'> | `chemical.${keyof FamilyRates['chemical']}`;
const ofFamily: readonly (Omit<RateField, 'path'> & { path: FamilyPath })[] = [
  {
    path: 'linePerHour',
    label: 'Line time',
    hint: 'Equipment, space and the crew of the line (not charged again as labour)',
    as: price('h'),
  },
  { path: 'heatingKw', label: 'Heating and cooling', hint: 'While a load runs', as: figure('power') },
  { path: 'rinseLPerLoad', label: 'Rinse water of a load', as: figure('volume') },
  { path: 'reworkShare', label: 'Rework', hint: 'Pieces that are reworked', as: figure('share') },
  { path: 'stripPerM2', label: 'Stripping', as: price('m²') },
  { path: 'chemical.consumptionGPerM2', label: 'Chemical used up', as: figure('consumption') },
  { path: 'chemical.pricePerKg', label: 'Chemical', as: price('kg') },
  {
    path: 'chemical.dragOutLPerM2',
    label: 'Drag-out',
    hint: 'Common practice: about 1.6 mL/dm² hanging and well drained, 8 poorly drained, 30 in cups',
    as: figure('dragOut'),
  },
  { path: 'chemical.concentrationGPerL', label: 'Concentration of the bath', as: figure('concentration') },
  { path: 'chemical.recoveryShare', label: 'Drag-out brought back', as: figure('share') },
];

/** Every figure of a rate card, in the order it is read. */
export const rateGroups: readonly RateGroup[] = [
  ...general,
  ...Family.options.map((family) => ({
    title: `Line: ${familyNames[family]}`,
    fields: ofFamily.map((field) => ({ ...field, path: `families.${family}.${field.path}` })),
  })),
];

/** The unit a price stands in for this person: `EUR/h`. */
export const priceUnit = (per: PricePer) => `${session.currency}/${priceUnitOf(per, session.units).name}`;

/** As it was typed: a price of a kilowatt hour has more decimals than the currency, but none has fewer. */
function priceFigure(value: number): string {
  const typed = String(value);
  const decimals = typed.split('.')[1]?.length ?? 0;
  return groupDigits(decimals < 2 ? value.toFixed(2) : typed);
}

/** Figures of a price that was converted for reading. */
const READ_FIGURES = 5;
/** A price as the person reads it, with its unit: `4.00 EUR/h`. */
export function priceText(value: number, per: PricePer): string {
  const { factor } = priceUnitOf(per, session.units);
  const shown = factor === 1 ? value : Number((value * factor).toPrecision(READ_FIGURES));
  return `${priceFigure(shown)}\u00a0${priceUnit(per)}`;
}

/** A figure of a card as the person reads it. */
export function rateText(field: RateField, rates: object): string {
  const value = Number(valueAt(rates, field.path));
  return 'price' in field.as ? priceText(value, field.as.price) : format.quantity(field.as.quantity, value);
}

/** Whether a figure differs between two revisions. */
export const differs = (path: string, card: RateCard, before: RateCard | null): boolean =>
  before !== null && !sameValue(valueAt(card.rates, path), valueAt(before.rates, path));
