import {
  CalcError,
  priceQuantities,
  quotedJob,
  racksByPrice,
  sensitivity,
  type Job,
  type JobCurrency,
  type JobRack,
  type QuantityBreak,
  type RackChoice,
  type Sensitivity,
} from '@huelot/calc';
import {
  minorDigitsOf,
  partStops,
  rackStops,
  supplyFaults,
  tankFitStops,
  usableSupplies,
  type Enquiry,
  type OrderSheet,
  type QuotationDraft,
  type QuotationRevision,
  type QuotationSheet,
} from '@huelot/contracts';

export type DraftLine = QuotationDraft['lines'][number];

/** A line for a part, with the rates' own times and the rack that costs least. */
export function newLine(sheet: QuotationSheet, partId: number): DraftLine {
  const part = sheet.parts.find(({ id }) => id === partId);
  const recipe = recipesFor(sheet, partId)[0];
  const rates = sheet.rateCard?.rates;
  const line: DraftLine = {
    partId,
    recipeRevisionId: recipe?.revisionId ?? 0,
    rackId: 0,
    supplyId: suppliesFor(sheet, { recipeRevisionId: recipe?.revisionId ?? 0 })[0]?.id ?? null,
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
  const exchangeRateId = sheet.exchangeRates[0]?.id ?? null;
  return { ...line, rackId: proposedRack(sheet, { line, exchangeRateId }) };
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
    exchangeRateId: sheet.exchangeRates[0]?.id ?? null,
    lines: first === undefined ? [] : [newLine(sheet, first.id)],
  };
}

/** The first draft of an answer to an enquiry: its contact, pieces and metal, and the colour that was chosen for it. */
export function draftForEnquiry(
  sheet: QuotationSheet,
  { enquiry, recipeRevisionId }: { enquiry: Enquiry | null; recipeRevisionId: number | null },
): QuotationDraft {
  const part = sheet.parts.find(({ materialId }) => materialId === enquiry?.material?.id);
  const draft = emptyDraft(sheet, part?.id ?? Number.NaN);
  if (enquiry === null) return draft;
  const lines = draft.lines.map((line) => {
    const quantities = enquiry.quantity === null ? line.quantities : [enquiry.quantity];
    const isFor = recipesFor(sheet, line.partId).some(({ revisionId }) => revisionId === recipeRevisionId);
    const chosen = {
      ...line,
      quantities,
      ...(recipeRevisionId === null || !isFor
        ? {}
        : { recipeRevisionId, supplyId: suppliesFor(sheet, { recipeRevisionId })[0]?.id ?? null }),
    };
    return {
      ...chosen,
      rackId: proposedRack(sheet, { line: chosen, exchangeRateId: draft.exchangeRateId }),
    };
  });
  return {
    ...draft,
    lines,
    contactName: enquiry.contact || draft.contactName,
    enquiryReference: `${enquiry.number} of ${enquiry.createdAt.slice(0, 10)}`,
    internalNotes: enquiry.words.slice(0, 4000),
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
  exchangeRateId:
    sheet.exchangeRates.find(({ id }) => id === shown.exchange?.id)?.id ?? sheet.exchangeRates[0]?.id ?? null,
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
export function recipesFor(sheet: OrderSheet, partId: number): OrderSheet['recipes'] {
  const part = sheet.parts.find(({ id }) => id === partId);
  return sheet.recipes.filter(
    ({ baseMetals, steps }) =>
      part === undefined ||
      (baseMetals.includes(part.baseMetal) && partStops(part.baseMetal, steps).length === 0),
  );
}

/** Why a rack may not go through the route of a line with its part: metals and sizes; empty where it may. */
function rackFaults(
  sheet: OrderSheet,
  { line, rack }: { line: Pick<DraftLine, 'partId' | 'recipeRevisionId'>; rack: OrderSheet['racks'][number] },
): string[] {
  const part = sheet.parts.find(({ id }) => id === line.partId);
  const recipe = sheet.recipes.find(({ revisionId }) => revisionId === line.recipeRevisionId);
  if (part === undefined || recipe === undefined) return [];
  const { steps } = recipe;
  return [
    ...rackStops({ rackMetal: rack.baseMetal, partMetal: part.baseMetal, steps }),
    ...tankFitStops({ rack, tanks: sheet.tanks, steps }),
  ].map(({ position, why }) => `step ${position}: ${why}`);
}

/** Racks that may go through the route of a line with its part. */
export const racksFor = (
  sheet: OrderSheet,
  line: Pick<DraftLine, 'partId' | 'recipeRevisionId'>,
): OrderSheet['racks'] => sheet.racks.filter((rack) => rackFaults(sheet, { line, rack }).length === 0);

/** Supplies that can run the recipe of a line, the one of the most current first; none for work without current. */
export const suppliesFor = (
  sheet: OrderSheet,
  line: Pick<DraftLine, 'recipeRevisionId'>,
): OrderSheet['supplies'] =>
  usableSupplies(
    sheet.supplies,
    sheet.recipes.find(({ revisionId }) => revisionId === line.recipeRevisionId)?.steps ?? [],
  );

/** What a line needs chosen before it can be priced, or what is still missing. */
function jobOf(
  sheet: QuotationSheet,
  { line, exchangeRateId }: { line: DraftLine; exchangeRateId: number | null },
): { job: Omit<Job, 'rack'> } | { why: string } {
  const part = sheet.parts.find(({ id }) => id === line.partId);
  const recipe = sheet.recipes.find(({ revisionId }) => revisionId === line.recipeRevisionId);
  const rates = sheet.rateCard?.rates;
  if (rates === undefined) return { why: 'There are no rates yet: an owner enters them under Rates.' };
  if (part === undefined) return { why: 'Choose a part.' };
  if (part.massKg === null) return { why: `${part.number} has no mass yet; the load limit needs it.` };
  if (recipe === undefined)
    return { why: `No approved recipe is for ${part.baseMetal}: choose or approve one.` };
  const supply = sheet.supplies.find(({ id }) => id === line.supplyId) ?? null;
  if (recipe.steps.some(({ electrical }) => electrical !== null)) {
    const faults =
      supply === null ? ['cannot be chosen: none can run this recipe'] : supplyFaults(supply, recipe.steps);
    if (faults[0] !== undefined) return { why: `Power supply ${supply?.code ?? ''} ${faults[0]}.` };
  }
  const currency = currencyOf(sheet, exchangeRateId);
  if (currency === null)
    return { why: `Choose a rate of exchange from ${sheet.baseCurrency} to ${sheet.customer.currency}.` };
  const [quantity] = line.quantities;
  if (quantity === undefined) return { why: 'Enter at least one quantity.' };
  const job = quotedJob({
    quantity,
    part: { ...part, massKg: part.massKg },
    steps: recipe.steps,
    rack: anyRack,
    supply,
    rates,
    familyRates: rates.families[recipe.family],
    options: line.options,
    currency,
  });
  return { job };
}
/** Stands for the rack until one is chosen: each that is compared takes its place. */
const anyRack = { hooks: null, windowWidthMm: null, windowHeightMm: null, gapMm: 0, maxLoadKg: null };

/** A rack as it is offered: what the line costs on it, or why nothing hangs there. */
export interface OfferedRack {
  id: number;
  code: string;
  name: string;
  loads: number | null;
  priceTotal: number | null;
  why: string;
}

/**
 * Every rack for a line, the one that costs least first, priced for one of its quantities; those that do not fit come
 * last with the reason. Before a price can be computed the racks come as they are.
 */
export function rackOffers(
  sheet: QuotationSheet,
  { quantity, ...asked }: { line: DraftLine; exchangeRateId: number | null; quantity?: number },
): OfferedRack[] {
  const { line } = asked;
  const fitting = racksFor(sheet, line);
  const found = jobOf(sheet, asked);
  const choices = compared(
    fitting,
    'job' in found ? { ...found.job, quantity: quantity ?? found.job.quantity } : null,
  );
  const barred = sheet.racks
    .filter((rack) => !fitting.includes(rack))
    .map((rack) => ({
      rack,
      loads: null,
      priceTotal: null,
      why: rackFaults(sheet, { line, rack })[0] ?? '',
    }));
  return [...choices, ...barred].map(({ rack: { id, code, name }, ...offer }) => ({
    id,
    code,
    name,
    ...offer,
  }));
}

/** Racks by what a job costs on them; as they come while a figure of the job is still to be typed. */
function compared<R extends JobRack>(racks: R[], job: Omit<Job, 'rack'> | null): RackChoice<R>[] {
  try {
    if (job !== null) return racksByPrice({ racks, job });
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
  }
  return racks.map((rack) => ({ rack, loads: null, priceTotal: null, why: '' }));
}

/** The rack proposed for a line: the one that fits and costs least at its first quantity. */
export const proposedRack = (
  sheet: QuotationSheet,
  input: { line: DraftLine; exchangeRateId: number | null },
): number => rackOffers(sheet, input).find(({ why }) => why === '')?.id ?? 0;

export type LivePrice =
  { ok: true; breaks: QuantityBreak[]; sensitivities: Sensitivity[] } | { ok: false; why: string };

/** The currency of the customer, as prices are computed in; null where the rate of exchange to it is not chosen. */
function currencyOf(sheet: QuotationSheet, exchangeRateId: number | null): JobCurrency | null {
  const minorDigits = minorDigitsOf(sheet.customer.currency);
  if (sheet.customer.currency === sheet.baseCurrency) return { exchangeRate: 1, minorDigits };
  const exchange = sheet.exchangeRates.find(({ id }) => id === exchangeRateId);
  return exchange === undefined ? null : { exchangeRate: Number(exchange.rate), minorDigits };
}

/** The prices of a line as it stands on the screen, by the same function the server prices with. */
export function livePrice(
  sheet: QuotationSheet,
  { line, exchangeRateId }: { line: DraftLine; exchangeRateId: number | null },
): LivePrice {
  const found = jobOf(sheet, { line, exchangeRateId });
  if ('why' in found) return { ok: false, why: found.why };
  const rack = sheet.racks.find(({ id }) => id === line.rackId);
  if (rack === undefined) return { ok: false, why: 'Choose a rack.' };
  const [fault] = rackFaults(sheet, { line, rack });
  if (fault !== undefined) return { ok: false, why: `Rack ${rack.code}, ${fault}.` };
  const job = { ...found.job, rack };
  try {
    return {
      ok: true,
      breaks: priceQuantities({ job, quantities: line.quantities }),
      sensitivities: sensitivity(job),
    };
  } catch (error) {
    if (error instanceof CalcError) return { ok: false, why: error.sentence };
    throw error;
  }
}
