import {
  CalcError,
  priceQuantities,
  quotedJob,
  sensitivity,
  type QuantityBreak,
  type Sensitivity,
} from '@huelot/calc';
import {
  refusalFor,
  type BaseMetal,
  type QuotationDraft,
  type QuotationRevision,
  type QuotationSheet,
} from '@huelot/contracts';

export type DraftLine = QuotationDraft['lines'][number];

/** A line for a part, with the rates' own times and whatever fits it first. */
export function newLine(sheet: QuotationSheet, partId: number): DraftLine {
  const part = sheet.parts.find(({ id }) => id === partId);
  const recipe = recipesFor(sheet, partId)[0];
  const rates = sheet.rateCard?.rates;
  const line: DraftLine = {
    partId,
    recipeRevisionId: recipe?.revisionId ?? 0,
    rackId: sheet.racks[0]?.id ?? 0,
    supplyId: null,
    quantities: [...(rates?.quantityBreaks ?? [1])],
    options: {
      maskingFeatures: part?.maskingFeatures ?? 0,
      masking: rates?.masking ?? { timeS: 0, materialCost: 0 },
      labour: rates?.labour ?? { setupS: 0, rackS: 0, unrackS: 0, inspectS: 0, packS: 0 },
      inspectionLevel: '',
      certificate: false,
      packing: '',
      packingCost: rates?.charges.packingCost ?? 0,
      expedite: false,
      validatedPieces: null,
      oneOffs: [],
    },
  };
  return { ...line, supplyId: suppliesFor(sheet, line)[0]?.id ?? null };
}

/** A new draft with the shop's and the customer's own words, and one line when a part is named. */
export function emptyDraft(sheet: QuotationSheet, partId: number): QuotationDraft {
  const first = sheet.parts.find(({ id }) => id === partId) ?? sheet.parts[0];
  return {
    contactName: sheet.customer.contacts[0] ?? '',
    enquiryReference: '',
    validUntil: sheet.validUntil,
    leadTimeDays: sheet.leadTimeDays,
    taxRatePercent: sheet.customer.taxRatePercent,
    terms: sheet.terms,
    customerNotes: '',
    internalNotes: '',
    rateCardId: sheet.rateCard?.id ?? 0,
    lines: first === undefined ? [] : [newLine(sheet, first.id)],
  };
}

/** What a stored revision says, as a draft to go on with, priced with the card in force. */
export const draftOf = (shown: QuotationRevision, sheet: QuotationSheet): QuotationDraft => ({
  contactName: shown.contactName,
  enquiryReference: shown.enquiryReference,
  validUntil: shown.validUntil,
  leadTimeDays: shown.leadTimeDays,
  taxRatePercent: shown.taxRatePercent,
  terms: shown.terms,
  customerNotes: shown.customerNotes,
  internalNotes: shown.internalNotes,
  rateCardId: sheet.rateCard?.id ?? shown.rateCardId,
  lines: shown.lines.map((line) => ({
    partId: line.part.id,
    recipeRevisionId: line.recipe.revisionId,
    rackId: line.rackId ?? 0,
    supplyId: line.supplyId,
    quantities: line.breaks.map(({ quantity }) => quantity),
    options: line.options ?? newLine(sheet, line.part.id).options,
  })),
});

/** Approved recipes for the metal of a part. */
export function recipesFor(sheet: QuotationSheet, partId: number): QuotationSheet['recipes'] {
  const part = sheet.parts.find(({ id }) => id === partId);
  return sheet.recipes.filter(
    ({ baseMetals, steps }) =>
      part === undefined ||
      (baseMetals.includes(part.baseMetal) &&
        steps.every(
          ({ contents }) =>
            contents === null || refusalFor({ baseMetal: part.baseMetal as BaseMetal, contents }) === null,
        )),
  );
}

/** Supplies connected to the tanks that the electrolytic steps of a line's recipe need; none for work without current. */
export function suppliesFor(
  sheet: QuotationSheet,
  line: Pick<DraftLine, 'recipeRevisionId'>,
): QuotationSheet['supplies'] {
  const recipe = sheet.recipes.find(({ revisionId }) => revisionId === line.recipeRevisionId);
  const needed = (recipe?.steps ?? []).flatMap(({ electrical, contents }) =>
    electrical !== null && contents !== null ? [contents] : [],
  );
  return needed.length === 0
    ? []
    : sheet.supplies.filter(({ contents }) => needed.every((one) => contents.includes(one)));
}

export type LivePrice =
  { ok: true; breaks: QuantityBreak[]; sensitivities: Sensitivity[] } | { ok: false; why: string };

/** The prices of a line as it stands on the screen, by the same function the server prices with. */
export function livePrice(sheet: QuotationSheet, line: DraftLine): LivePrice {
  const part = sheet.parts.find(({ id }) => id === line.partId);
  const recipe = sheet.recipes.find(({ revisionId }) => revisionId === line.recipeRevisionId);
  const rack = sheet.racks.find(({ id }) => id === line.rackId);
  const rates = sheet.rateCard?.rates;
  if (rates === undefined)
    return { ok: false, why: 'There are no rates yet: an owner enters them under Rates.' };
  if (part === undefined) return { ok: false, why: 'Choose a part.' };
  if (part.massKg === null)
    return { ok: false, why: `${part.number} has no mass yet; the load limit needs it.` };
  if (recipe === undefined)
    return { ok: false, why: `No approved recipe is for ${part.baseMetal}: choose or approve one.` };
  if (rack === undefined) return { ok: false, why: 'Choose a rack.' };
  const [quantity] = line.quantities;
  if (quantity === undefined) return { ok: false, why: 'Enter at least one quantity.' };
  const job = quotedJob({
    quantity,
    part: { ...part, massKg: part.massKg },
    steps: recipe.steps,
    rack,
    supply: sheet.supplies.find(({ id }) => id === line.supplyId) ?? null,
    rates,
    familyRates: rates.families[recipe.family],
    options: line.options,
  });
  try {
    return {
      ok: true,
      breaks: priceQuantities({ job, quantities: line.quantities }),
      sensitivities: sensitivity(job),
    };
  } catch (error) {
    if (error instanceof CalcError) return { ok: false, why: `${error.message}.` };
    throw error;
  }
}
