import type { Quotation, QuotationRevision } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { type Change, changesBetween } from '../../core/audit/index.ts';
import { readEquipmentCodes } from './sheet-queries.ts';

type Lines = QuotationRevision['lines'];
type Codes = Awaited<ReturnType<typeof readEquipmentCodes>>;

/** What a change of a draft changed, from what to what, in the words of its page. */
export async function draftChanges(
  execute: SqlExecutor,
  before: Quotation,
  after: Quotation,
): Promise<Change[]> {
  const lines = [...before.shown.lines, ...after.shown.lines];
  const codes = await readEquipmentCodes(execute, {
    rackIds: lines.flatMap(({ rackId }) => rackId ?? []),
    supplyIds: lines.flatMap(({ supplyId }) => supplyId ?? []),
  });
  return changesBetween(historyOf(before.shown, codes), historyOf(after.shown, codes));
}

/** A field that begins with `internal` is shown to those alone who may see rates. */
function historyOf(shown: QuotationRevision, codes: Codes) {
  const { contactName, enquiryReference, validUntil, leadTimeDays, taxRatePercent, terms } = shown;
  const { customerNotes, internalNotes, rateCardRevision, currency, exchange, lines } = shown;
  return {
    ...{ contactName, enquiryReference, validUntil, leadTimeDays, taxRatePercent, terms },
    ...{ customerNotes, internalNotes, rateCardRevision, currency },
    rateOfExchange:
      exchange === null ? null : `1 ${exchange.baseCurrency} = ${exchange.rate} ${exchange.currency}`,
    lines: lines.map((line) => offered(line, codes)),
    internalChoices: lines.map(chosen),
  };
}

const offered = (line: Lines[number], { racks, supplies }: Codes) => ({
  part: `${line.part.number} rev ${line.part.revision}`,
  recipe: `${line.recipe.number} ${line.recipe.name} rev ${line.recipe.revision}`,
  rack: racks.get(line.rackId ?? 0) ?? null,
  supply: supplies.get(line.supplyId ?? 0) ?? null,
  inspectionLevel: line.inspectionLevel,
  certificate: line.certificate,
  packing: line.packing,
  expedite: line.expedite,
  oneOffs: line.oneOffs,
  priceOf: Object.fromEntries(line.breaks.map(({ quantity, totalPrice }) => [String(quantity), totalPrice])),
});

function chosen({ options }: Lines[number]) {
  if (options === undefined) return null;
  const { maskingFeatures, masking, labour, packingCost, validatedPieces } = options;
  return { maskingFeatures, masking, labour, packingCost, validatedPieces };
}
