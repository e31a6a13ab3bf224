import {
  CALC_VERSION,
  CalcError,
  priceQuantities,
  quotedJob,
  unitPriceDigits,
  type JobCurrency,
  type QuantityBreak,
} from '@huelot/calc';
import {
  metalStopText,
  minorDigitsOf,
  partStops,
  rackStops,
  supplyFaults,
  tankFitStops,
  type BaseMetal,
  type ExchangeRate,
  type MetalStop,
  type QuotationDraft,
  type QuotationSheet,
} from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { fieldError, DomainError } from '../../kernel/refusal.ts';
import { readExchangeRate } from '../../catalog/rates/index.ts';
import type { PricedLine } from './queries.ts';
import * as sheet from './sheet-queries.ts';

export { CALC_VERSION };

/** Whom prices are for. */
export interface PricedFor {
  id: number;
  name: string;
  currency: string;
}

/**
 * Prices every line of a draft with the rates in force. A fault is refused under the name of its field; a rate card
 * that moved since the form was opened is refused before anything is computed.
 */
export async function priceLines(
  tx: Tx,
  {
    quotationId,
    customer,
    draft,
  }: {
    /** Null before it is written. */ quotationId: number | null;
    customer: PricedFor;
    draft: QuotationDraft;
  },
): Promise<PricedLine[]> {
  const card = await sheet.readRateCard(tx.execute);
  if (card === null)
    throw new DomainError('conflict', 'There are no rates yet: an owner enters them under Rates.');
  if (card.id !== draft.rateCardId) {
    throw new DomainError(
      'version-conflict',
      `The rates changed while you were quoting: revision ${card.revision} is in force now. Open the form again to price with it.`,
    );
  }
  await checkCharged(tx, { quotationId, draft });
  const { currency, exchange } = await currencyOf(tx, { customer, exchangeRateId: draft.exchangeRateId });
  const named = await sheet.readNamed(tx.execute, {
    partIds: draft.lines.map(({ partId }) => partId),
    revisionIds: draft.lines.map(({ recipeRevisionId }) => recipeRevisionId),
  });
  const [racks, supplies, tanks] = await Promise.all([
    sheet.readSheetRacks(tx.execute),
    sheet.readSheetSupplies(tx.execute),
    sheet.readSheetTanks(tx.execute),
  ]);
  return draft.lines.map((line, index) => {
    const path = (field: string) => `lines.${index}.${field}`;
    const part = named.parts.find(({ id }) => id === line.partId);
    if (part?.customerId !== customer.id) throw fieldError(path('partId'), 'is not a part of this customer');
    if (part.archived) throw fieldError(path('partId'), 'is archived');
    if (part.massKg === null) throw fieldError(path('partId'), 'has no mass yet; the load limit needs it');
    const recipe = named.recipes.find(({ revisionId }) => revisionId === line.recipeRevisionId);
    if (recipe?.status !== 'approved')
      throw fieldError(path('recipeRevisionId'), 'must be an approved recipe revision');
    if (!recipe.baseMetals.includes(part.baseMetal)) {
      throw fieldError(
        path('recipeRevisionId'),
        `is a recipe for ${recipe.baseMetals.join(', ')}, not for ${part.baseMetal}`,
      );
    }
    refuseStops(partStops(part.baseMetal, recipe.steps), {
      subject: `Part ${part.number}`,
      baseMetal: part.baseMetal,
      path: path('recipeRevisionId'),
    });
    const rack = racks.find(({ id }) => id === line.rackId);
    if (rack === undefined) throw fieldError(path('rackId'), 'is not a rack in use');
    refuseStops(rackStops({ rackMetal: rack.baseMetal, partMetal: part.baseMetal, steps: recipe.steps }), {
      subject: `Rack ${rack.code}`,
      baseMetal: rack.baseMetal,
      path: path('rackId'),
    });
    const [misfit] = tankFitStops({ rack, tanks, steps: recipe.steps });
    if (misfit !== undefined)
      throw fieldError(path('rackId'), `does not fit step ${misfit.position}: ${misfit.why}`);
    const supply = checkSupply(supplies, recipe, { id: line.supplyId, path: path('supplyId') });
    const given = {
      part: { ...part, massKg: part.massKg },
      steps: recipe.steps,
      rack,
      supply,
      rates: card.rates,
      familyRates: card.rates.families[recipe.family],
      options: line.options,
      currency,
    };
    const job = quotedJob({ ...given, quantity: Math.min(...line.quantities) });
    return {
      line,
      inputs: { ...given, exchange, calcVersion: CALC_VERSION },
      breaks: priced({ at: index, minorDigits: currency.minorDigits }, () =>
        priceQuantities({ job, quantities: line.quantities }),
      ),
    };
  });
}

/** Refuses a charge for a trial that is none, was withdrawn, or is charged already, here or on another quotation. */
async function checkCharged(
  tx: Tx,
  { quotationId, draft }: { quotationId: number | null; draft: QuotationDraft },
): Promise<void> {
  const charges = draft.lines.flatMap(({ options }, line) =>
    options.oneOffs.flatMap(({ trialRunId }, index) =>
      trialRunId === null ? [] : [{ trialRunId, path: `lines.${line}.options.oneOffs.${index}.trialRunId` }],
    ),
  );
  if (charges.length === 0) return;
  const trials = await sheet.lockTrials(
    tx.execute,
    charges.map(({ trialRunId }) => trialRunId),
  );
  for (const [index, { trialRunId, path }] of charges.entries()) {
    const trial = trials.find(({ id }) => id === trialRunId);
    if (trial === undefined) throw fieldError(path, `there is no trial ${trialRunId}`);
    if (trial.state === 'withdrawn') throw fieldError(path, `${trial.number} was withdrawn`);
    if (charges.findIndex((one) => one.trialRunId === trialRunId) !== index)
      throw fieldError(path, `${trial.number} is charged on this quotation already`);
    const other = await sheet.readChargedOn(tx.execute, { trialRunId, quotationId });
    if (other !== null) throw fieldError(path, `${trial.number} is charged on ${other} already`);
  }
}

/** The currency a customer is quoted in, and what it is exchanged at where that is not the shop's. */
async function currencyOf(
  tx: Tx,
  { customer, exchangeRateId }: { customer: PricedFor; exchangeRateId: number | null },
): Promise<{ currency: JobCurrency; exchange: ExchangeRate | null }> {
  const { baseCurrency } = await sheet.readDefaults(tx.execute);
  const minorDigits = minorDigitsOf(customer.currency);
  if (customer.currency === baseCurrency) {
    if (exchangeRateId !== null)
      throw fieldError('exchangeRateId', `is not needed: ${customer.name} is quoted in ${baseCurrency}`);
    return { currency: { exchangeRate: 1, minorDigits }, exchange: null };
  }
  const asked = `is needed: ${customer.name} is quoted in ${customer.currency}, the rates are in ${baseCurrency}`;
  if (exchangeRateId === null) throw fieldError('exchangeRateId', asked);
  const exchange = await readExchangeRate(tx.execute, exchangeRateId);
  if (exchange === null || exchange.currency !== customer.currency || exchange.baseCurrency !== baseCurrency)
    throw fieldError(
      'exchangeRateId',
      `is not a rate of exchange from ${baseCurrency} to ${customer.currency}`,
    );
  return { currency: { exchangeRate: Number(exchange.rate), minorDigits }, exchange };
}

/** Faults of the calculation are faults of the line: its argument names what is wrong. */
function priced(
  { at, minorDigits }: { at: number; minorDigits: number },
  compute: () => QuantityBreak[],
): PricedLine['breaks'] {
  try {
    return compute().map((price) => ({
      quantity: price.quantity,
      totalPrice: price.priceWithOneOffs.toFixed(minorDigits),
      unitPrice: price.unitPrice.toFixed(unitPriceDigits(minorDigits)),
      loads: price.plan.loads,
      buildUp: price,
    }));
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    const field = error.argument.startsWith('quantities') ? error.path : fieldOf(error.argument);
    throw fieldError(`lines.${at}.${field}`, field === 'options' ? error.sentence : error.rule);
  }
}

/** The field of the form that a figure of the job comes from. */
function fieldOf(argument: string): string {
  if (argument.startsWith('labour.')) return `options.${argument}`;
  if (argument.startsWith('rack.') || argument === 'rack') return 'rackId';
  if (argument.startsWith('limits.')) return 'supplyId';
  if (argument.startsWith('part.masks')) return 'options.maskingFeatures';
  if (argument.startsWith('part.')) return 'partId';
  return argument.startsWith('process.') ? 'recipeRevisionId' : 'options';
}

function refuseStops(
  stops: readonly MetalStop[],
  options: { subject: string; baseMetal: BaseMetal; path: string },
): void {
  const [stop] = stops;
  if (stop === undefined) return;
  const message = metalStopText({ ...options, stop });
  throw new DomainError('incompatible', message, { issues: [{ path: options.path, message }] });
}

function checkSupply(
  supplies: QuotationSheet['supplies'],
  recipe: QuotationSheet['recipes'][number],
  chosen: { id: number | null; path: string },
) {
  if (recipe.steps.every(({ electrical }) => electrical === null)) {
    if (chosen.id !== null) throw fieldError(chosen.path, 'is not needed: this recipe uses no current');
    return null;
  }
  const supply = supplies.find(({ id }) => id === chosen.id);
  if (supply === undefined) throw fieldError(chosen.path, 'is needed: this recipe runs on a power supply');
  const [fault] = supplyFaults(supply, recipe.steps);
  if (fault !== undefined) throw fieldError(chosen.path, fault);
  return supply;
}
