import type { Chemical, ChemicalLot, NewChemical, receiveChemicalLot } from '@huelot/contracts';
import type { z } from 'zod';
import type { AsTyped } from '$lib/forms/typing.ts';

/** A form as it is typed: a price is empty where there is none. */
export type ChemicalValues = AsTyped<Omit<NewChemical, 'pricePerKg'>> & {
  pricePerKg: string;
  archived: boolean;
};

export const emptyChemical: ChemicalValues = {
  code: '',
  name: '',
  formula: '',
  solute: null,
  form: 'solid',
  assayMassFraction: null,
  impurityMassFraction: 0,
  densityKgPerM3: null,
  hazards: [],
  supplier: '',
  reorderPointKg: null,
  pricePerKg: '',
  sdsFileId: null,
  notes: '',
  archived: false,
};

export const valuesOf = (chemical: Chemical): ChemicalValues => ({
  code: chemical.code,
  name: chemical.name,
  formula: chemical.formula,
  solute: chemical.solute,
  form: chemical.form,
  assayMassFraction: chemical.assayMassFraction,
  impurityMassFraction: chemical.impurityMassFraction,
  densityKgPerM3: chemical.densityKgPerM3,
  hazards: [...chemical.hazards],
  supplier: chemical.supplier,
  reorderPointKg: chemical.reorderPointKg,
  pricePerKg: priceAsTyped(chemical.pricePerKg),
  sdsFileId: chemical.sdsFileId,
  notes: chemical.notes,
  archived: chemical.archivedAt !== null,
});

/** A stored price has four decimals at most; one is typed with two. */
const priceAsTyped = (price: string | null): string => price?.replace(/(\.\d\d)00$/, '$1') ?? '';

export const priceOf = (typed: string): string | null =>
  typed.trim() === '' ? null : typed.trim().replace(',', '.');
/** Who may not see rates types a price and reads none. */
export const priceHint = (text: string, maySee: boolean): string =>
  maySee ? text : `${text}. Shown to who may see rates; left empty, it stays`;

/** What is sent; the density of a solid says nothing and stays behind. */
export const bodyOf = ({ archived: _, pricePerKg, ...values }: ChemicalValues): NewChemical =>
  ({
    ...values,
    densityKgPerM3: values.form === 'liquid' ? values.densityKgPerM3 : null,
    pricePerKg: priceOf(pricePerKg),
  }) as NewChemical;

type Receipt = z.output<typeof receiveChemicalLot.body>;
export type ReceiptValues = Omit<AsTyped<Receipt>, 'receivedAt' | 'expiresOn' | 'pricePerKg'> & {
  receivedAt: string | null;
  expiresOn: string;
  pricePerKg: string;
};

/** An empty receipt, with the assay the chemical usually has. */
export const newReceipt = (chemical: Chemical): ReceiptValues => ({
  supplierLot: '',
  receivedAt: new Date().toISOString(),
  quantityKg: null,
  assayMassFraction: chemical.assayMassFraction,
  densityKgPerM3: chemical.densityKgPerM3,
  expiresOn: '',
  pricePerKg: '',
  quarantined: false,
  notes: '',
});

/** A day that may be left out, as it is sent. */
export const dayOf = (typed: string): string | null => (typed === '' ? null : typed);

export const lotValuesOf = (lot: ChemicalLot) => ({
  status: lot.status,
  assayMassFraction: lot.assayMassFraction as number | null,
  densityKgPerM3: lot.densityKgPerM3,
  expiresOn: lot.expiresOn ?? '',
  pricePerKg: priceAsTyped(lot.pricePerKg),
  notes: lot.notes,
  reason: '',
});
