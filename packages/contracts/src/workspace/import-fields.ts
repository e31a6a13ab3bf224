import { z } from 'zod';

/** What can be brought from a table. */
export const ImportKind = z.enum(['customers', 'parts', 'materials', 'chemicals']);
export type ImportKind = z.output<typeof ImportKind>;

/** A unit that figures of a column may be in: its key, how heads write it, and what it is stored as. */
export interface ImportUnit {
  key: string;
  symbols: readonly string[];
}
const unit = (key: string, ...symbols: string[]): ImportUnit => ({ key, symbols });
/** The units of each measure, the one that storage has first where it is one of them. */
export const importUnits = {
  length: [unit('mm', 'mm'), unit('cm', 'cm'), unit('in', 'in', 'inch', '"')],
  area: [
    unit('mm2', 'mm²', 'mm2'),
    unit('cm2', 'cm²', 'cm2'),
    unit('dm2', 'dm²', 'dm2'),
    unit('m2', 'm²', 'm2'),
    unit('in2', 'in²', 'in2', 'sq in'),
    unit('ft2', 'ft²', 'ft2', 'sq ft'),
  ],
  mass: [unit('kg', 'kg'), unit('g', 'g'), unit('lb', 'lb'), unit('oz', 'oz')],
  density: [
    unit('kgPerM3', 'kg/m³', 'kg/m3'),
    unit('gPerCm3', 'g/cm³', 'g/cm3', 'g/ml'),
    unit('lbPerIn3', 'lb/in³', 'lb/in3'),
  ],
  heatCapacity: [
    unit('JPerKgK', 'J/(kg K)', 'J/kgK', 'J/kg/K'),
    unit('JPerGK', 'J/(g K)', 'J/gK', 'kJ/(kg K)', 'kJ/kgK'),
  ],
  share: [unit('percent', '%', 'percent', 'wt%'), unit('fraction', 'fraction')],
} as const satisfies Record<string, readonly ImportUnit[]>;
export type ImportMeasure = keyof typeof importUnits;

/** One field of a record that a column can hold. */
export interface ImportField {
  key: string;
  label: string;
  required: boolean;
  /** Null where it is text, or a number without a unit. */
  measure: ImportMeasure | null;
  /** Other heads that mean it, in lower case. */
  heads: readonly string[];
}
const field = (
  key: string,
  label: string,
  { required = false, measure = null, heads = [] }: Partial<Omit<ImportField, 'key' | 'label'>> = {},
): ImportField => ({ key, label, required, measure, heads });

export const importFields: Record<ImportKind, readonly ImportField[]> = {
  customers: [
    field('name', 'name', { required: true, heads: ['customer', 'company', 'firm'] }),
    field('currency', 'currency'),
    field('taxNumber', 'tax number', { heads: ['vat', 'vat number', 'vat id', 'tax id'] }),
    field('taxRatePercent', 'tax rate', { heads: ['vat rate', 'tax', 'tax %'] }),
    field('contactName', 'contact', { heads: ['contact name', 'contact person', 'attention'] }),
    field('contactRole', 'role of the contact', { heads: ['position', 'role', 'job title'] }),
    field('email', 'e-mail', { heads: ['email', 'mail', 'e-mail address'] }),
    field('phone', 'telephone', { heads: ['phone', 'tel', 'mobile'] }),
    field('billingAddress', 'billing address', { heads: ['address', 'invoice address', 'street'] }),
    field('deliveryAddress', 'delivery address', { heads: ['shipping address', 'ship to'] }),
    field('terms', 'terms', { heads: ['payment terms', 'terms of payment'] }),
    field('notes', 'notes', { heads: ['note', 'remark', 'remarks', 'comment'] }),
  ],
  parts: [
    field('customer', 'customer', { required: true, heads: ['customer name', 'customer number', 'company'] }),
    field('number', 'part number', {
      required: true,
      heads: ['number', 'part', 'part no', 'item', 'drawing'],
    }),
    field('revision', 'revision', { required: true, heads: ['rev', 'index', 'issue'] }),
    field('description', 'description', { heads: ['name', 'title', 'designation'] }),
    field('material', 'material', { required: true, heads: ['alloy', 'metal'] }),
    field('areaMm2', 'area', {
      required: true,
      measure: 'area',
      heads: ['surface', 'surface area', 'wetted area'],
    }),
    field('massKg', 'mass', { measure: 'mass', heads: ['weight'] }),
    field('widthMm', 'width', { measure: 'length', heads: ['w', 'x'] }),
    field('heightMm', 'height', { measure: 'length', heads: ['h', 'length', 'y'] }),
    field('depthMm', 'depth', { measure: 'length', heads: ['d', 'thickness', 'z'] }),
    field('conditionReceived', 'condition received', { heads: ['condition', 'surface condition'] }),
    field('colourSample', 'colour sample', { heads: ['sample', 'colour', 'color', 'color sample'] }),
    field('specification', 'specification', { heads: ['spec', 'standard'] }),
    field('specificationRevision', 'revision of the specification', { heads: ['spec rev', 'spec revision'] }),
    field('notes', 'notes', { heads: ['note', 'remark', 'remarks', 'comment'] }),
  ],
  materials: [
    field('name', 'name', { required: true, heads: ['material', 'alloy'] }),
    field('designation', 'designation', { heads: ['uns', 'number', 'standard'] }),
    field('condition', 'condition', { heads: ['temper', 'heat treatment'] }),
    field('baseMetal', 'base metal', { required: true, heads: ['metal', 'base'] }),
    field('densityKgPerM3', 'density', { required: true, measure: 'density', heads: ['rho'] }),
    field('heatCapacityJPerKgK', 'heat capacity', {
      ...{ required: true, measure: 'heatCapacity', heads: ['specific heat', 'cp'] },
    }),
    field('source', 'source', { required: true, heads: ['reference', 'from'] }),
    field('notes', 'notes', { heads: ['note', 'remark', 'remarks', 'comment'] }),
  ],
  chemicals: [
    field('code', 'code', { required: true, heads: ['number', 'article', 'item'] }),
    field('name', 'name', { required: true, heads: ['chemical', 'product'] }),
    field('formula', 'formula'),
    field('solute', 'solute'),
    field('form', 'form', { required: true, heads: ['state', 'solid or liquid'] }),
    field('assayMassFraction', 'assay', {
      ...{ required: true, measure: 'share', heads: ['strength', 'purity', 'content', 'concentration'] },
    }),
    field('densityKgPerM3', 'density', { measure: 'density' }),
    field('hazards', 'hazards', { heads: ['hazard', 'dangers'] }),
    field('supplier', 'supplier', { heads: ['vendor', 'maker'] }),
    field('reorderPointKg', 'reorder point', { measure: 'mass', heads: ['reorder below', 'minimum stock'] }),
    field('pricePerKg', 'price per kg', { heads: ['price', 'price/kg', 'cost'] }),
    field('notes', 'notes', { heads: ['note', 'remark', 'remarks', 'comment'] }),
  ],
};

const plain = (text: string) =>
  text
    .toLowerCase()
    .replaceAll(/[\s_.-]+/g, ' ')
    .trim();

/**
 * What a column most likely holds, by its head; the unit is the one the head names in brackets or after a comma.
 *
 * @example
 * matchHead('parts', 'Mass (g)') // { field: 'massKg', unit: 'g' }
 */
export function matchHead(kind: ImportKind, head: string): { field: string; unit: string | null } | null {
  const [, before = head, inside = ''] = /^(.*?)\s*[[(,/]\s*(.*?)[\])]*\s*$/.exec(head) ?? [];
  const exact = importFields[kind].find(({ key, label, heads }) =>
    [key, label, ...heads].some((name) => plain(name) === plain(head)),
  );
  const found =
    exact ??
    importFields[kind].find(({ key, label, heads }) =>
      [key, label, ...heads].some((name) => plain(name) === plain(before)),
    );
  if (found === undefined) return null;
  const { key, measure } = found;
  if (measure === null) return { field: key, unit: null };
  const symbol = inside.toLowerCase().replaceAll(/[\s()]/g, '');
  const units: readonly ImportUnit[] = importUnits[measure];
  const one = units.find(({ symbols }) =>
    symbols.some((name) => name.toLowerCase().replaceAll(/[\s()]/g, '') === symbol),
  );
  return { field: key, unit: one?.key ?? null };
}
