import { CALC_VERSION, CalcError, priceQuantities, quotedJob, type QuantityBreak } from '@huelot/calc';
import { refusalFor, type BaseMetal, type QuotationDraft, type QuotationSheet } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { invalid, Refusal } from '../../refusal.ts';
import type { PricedLine } from './queries.ts';
import * as sheet from './sheet-queries.ts';

export { CALC_VERSION };

/**
 * Prices every line of a draft with the rates in force. A fault is refused under the name of its field; a rate card
 * that moved since the form was opened is refused before anything is computed.
 */
export async function priceLines(
  tx: Tx,
  of: { customerId: number; draft: QuotationDraft },
): Promise<PricedLine[]> {
  const { customerId, draft } = of;
  const card = await sheet.readRateCard(tx.run);
  if (card === null)
    throw new Refusal('conflict', 'There are no rates yet: an owner enters them under Setup.');
  if (card.id !== draft.rateCardId) {
    throw new Refusal(
      'changed-meanwhile',
      `The rates changed while you were quoting: revision ${card.revision} is in force now. Open the form again to price with it.`,
    );
  }
  const named = await sheet.readNamed(tx.run, {
    partIds: draft.lines.map(({ partId }) => partId),
    revisionIds: draft.lines.map(({ recipeRevisionId }) => recipeRevisionId),
  });
  const [racks, supplies] = await Promise.all([
    sheet.readSheetRacks(tx.run),
    sheet.readSheetSupplies(tx.run),
  ]);
  return draft.lines.map((line, at) => {
    const path = (field: string) => `lines.${at}.${field}`;
    const part = named.parts.find(({ id }) => id === line.partId);
    if (part?.customerId !== customerId) throw invalid(path('partId'), 'is not a part of this customer');
    if (part.archived) throw invalid(path('partId'), 'is archived');
    if (part.massKg === null) throw invalid(path('partId'), 'has no mass yet; the load limit needs it');
    const recipe = named.recipes.find(({ revisionId }) => revisionId === line.recipeRevisionId);
    if (recipe?.status !== 'approved')
      throw invalid(path('recipeRevisionId'), 'must be an approved recipe revision');
    checkMetals(part, recipe, path('recipeRevisionId'));
    const rack = racks.find(({ id }) => id === line.rackId);
    if (rack === undefined) throw invalid(path('rackId'), 'is not a rack in use');
    checkMetals(rack, { ...recipe, baseMetals: [rack.baseMetal] }, path('rackId'));
    const supply = checkSupply(supplies, recipe, { id: line.supplyId, path: path('supplyId') });
    const given = {
      part: { ...part, massKg: part.massKg },
      steps: recipe.steps,
      rack,
      supply,
      rates: card.rates,
      familyRates: card.rates.families[recipe.family],
      options: line.options,
    };
    const job = quotedJob({ ...given, quantity: Math.min(...line.quantities) });
    return {
      line,
      inputs: { ...given, calcVersion: CALC_VERSION },
      breaks: priced(at, () => priceQuantities({ job, quantities: line.quantities })),
    };
  });
}

/** Faults of the calculation are faults of the line: its argument names what is wrong. */
function priced(at: number, compute: () => QuantityBreak[]): PricedLine['breaks'] {
  try {
    return compute().map((price) => ({
      quantity: price.quantity,
      totalPrice: price.priceWithOneOffs.toFixed(2),
      unitPrice: price.unitPrice.toFixed(4),
      loads: price.plan.loads,
      buildUp: price,
    }));
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    const field = error.argument.startsWith('quantities')
      ? error.argument.replace(/\[(\d+)\]/, '.$1')
      : fieldOf(error.argument);
    throw invalid(`lines.${at}.${field}`, error.message);
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

function checkMetals(
  of: { baseMetal: string },
  recipe: { baseMetals: string[]; steps: QuotationSheet['recipes'][number]['steps'] },
  path: string,
): void {
  if (!recipe.baseMetals.includes(of.baseMetal)) {
    throw invalid(path, `is a recipe for ${recipe.baseMetals.join(', ')}, not for ${of.baseMetal}`);
  }
  for (const { position, contents } of recipe.steps) {
    const refusal = contents === null ? null : refusalFor({ baseMetal: of.baseMetal as BaseMetal, contents });
    if (refusal !== null)
      throw new Refusal(
        'incompatible',
        `${of.baseMetal} must not go into step ${position}: ${refusal.why}.`,
        { issues: [{ path, message: refusal.why }] },
      );
  }
}

function checkSupply(
  supplies: QuotationSheet['supplies'],
  recipe: QuotationSheet['recipes'][number],
  chosen: { id: number | null; path: string },
) {
  const electrolytic = recipe.steps.filter(({ electrical }) => electrical !== null);
  if (electrolytic.length === 0) {
    if (chosen.id !== null) throw invalid(chosen.path, 'is not needed: this recipe uses no current');
    return null;
  }
  const supply = supplies.find(({ id }) => id === chosen.id);
  if (supply === undefined) throw invalid(chosen.path, 'is needed: this recipe runs on a power supply');
  for (const { position, contents, electrical } of electrolytic) {
    if (contents !== null && !supply.contents.includes(contents))
      throw invalid(chosen.path, `is not connected to a tank for step ${position}`);
    const highest =
      electrical?.mode === 'voltage' ? Math.max(...electrical.programme.map(({ to }) => to)) : 0;
    if (highest > supply.maxVoltageV)
      throw invalid(
        chosen.path,
        `gives at most ${supply.maxVoltageV} V; step ${position} needs ${highest} V`,
      );
  }
  return supply;
}
