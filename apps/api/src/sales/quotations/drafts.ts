import type * as contract from '@huelot/contracts';
import type { Quotation, QuotationDraft, QuotationRevision } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { answerByQuotation } from '../enquiries/index.ts';
import { draftChanges } from './draft-changes.ts';
import { lockLatestRevision, type On } from './open-last.ts';
import { readExchangeRates } from '../../catalog/rates/index.ts';
import { CALC_VERSION, priceLines, type PricedFor } from './price.ts';
import * as queries from './queries.ts';
import { loadQuotation } from './read-quotation.ts';
import { readCustomer, readDefaults, readRateCard } from './sheet-queries.ts';

/** The first draft of a quotation. */
export function createQuotation(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof contract.createQuotation.body> },
): Promise<Quotation> {
  const { customerId, enquiryId, ...draft } = input;
  return inTransaction(db, async (tx) => {
    const quotation = await writeFirst(tx, { actor, customerId, draft, action: 'drafted' });
    if (enquiryId === undefined) return quotation;
    const { id, number } = quotation;
    await answerByQuotation(tx, { actor, enquiryId, quotation: { id, number, customerId } });
    return loadQuotation(tx, { id });
  });
}

async function writeFirst(
  tx: Tx,
  {
    actor,
    customerId,
    draft,
    action,
  }: { actor: Actor; customerId: number; draft: QuotationDraft; action: string },
): Promise<Quotation> {
  const customer = await readCustomer(tx.execute, customerId);
  if (customer === null || customer.closed) throw fieldError('customerId', 'is not a customer in use');
  const number = await nextNumber(tx.execute, 'quotation');
  const { id } = await queries.addQuotation(tx, { number, customerId, createdById: actor.personId });
  await writeDraft(tx, { actor, quotationId: id, revision: 1, customer, draft });
  await writeAudit(tx.execute, actor, { kind: 'quotation', id, number, action });
  return loadQuotation(tx, { id });
}

async function writeDraft(
  tx: Tx,
  {
    actor,
    quotationId,
    revision,
    customer,
    draft,
  }: {
    actor: Actor;
    quotationId: number;
    revision: number;
    customer: PricedFor;
    draft: QuotationDraft;
  },
): Promise<void> {
  const priced = await priceLines(tx, { quotationId, customer, draft });
  const text = textOf(draft);
  const { id } = await queries.addRevision(tx, {
    ...text,
    quotationId,
    revision,
    currency: customer.currency,
    calcVersion: CALC_VERSION,
    createdById: actor.personId,
  });
  await queries.replaceLines(tx, id, priced);
}

/** A draft without its lines: what the revision itself holds. */
function textOf(draft: QuotationDraft): queries.RevisionText {
  const {
    contactName,
    enquiryReference,
    validUntil,
    leadTimeDays,
    taxRatePercent,
    terms,
    customerNotes,
    internalNotes,
    rateCardId,
    exchangeRateId,
  } = draft;
  return {
    contactName,
    enquiryReference,
    validUntil,
    leadTimeDays,
    taxRatePercent,
    terms,
    customerNotes,
    internalNotes,
    rateCardId,
    exchangeRateId,
  };
}

/** Changes the draft; what was sent is never touched. */
export function changeQuotation(db: Db, options: On & { input: QuotationDraft }): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    const before = await lockLatestRevision(tx, { ...options, states: ['draft'], doing: 'changed' });
    const { shown, customer, number } = before;
    const pricedFor = orNotFound(await readCustomer(tx.execute, customer.id), `customer ${customer.id}`);
    const priced = await priceLines(tx, {
      quotationId: options.id,
      customer: pricedFor,
      draft: options.input,
    });
    const { validUntil, ...text } = textOf(options.input);
    await queries.changeRevision(tx, shown.id, {
      ...text,
      validUntil: new Date(validUntil),
      currency: pricedFor.currency,
      calcVersion: CALC_VERSION,
    });
    await queries.replaceLines(tx, shown.id, priced);
    const after = await loadQuotation(tx, options);
    await writeAudit(tx.execute, options.actor, {
      kind: 'quotation',
      id: options.id,
      number,
      action: `changed the draft of revision ${shown.revision}`,
      changes: await draftChanges(tx.execute, before, after),
    });
    return after;
  });
}

/** A new draft from the last revision, with today's rates, the last revision of each part and the approved one of each recipe. */
export function reviseQuotation(db: Db, options: { actor: Actor; id: number }): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    await queries.lockQuotation(tx.execute, options.id);
    const before = await loadQuotation(tx, options);
    if (before.shown.status === 'draft')
      throw new DomainError(
        'conflict',
        `${before.number} has a draft already: revision ${before.shown.revision}.`,
      );
    if (before.shown.status === 'accepted')
      throw new DomainError(
        'conflict',
        `${before.number} is accepted: change the order, or copy the quotation.`,
      );
    const revision = before.shown.revision + 1;
    const customer = orNotFound(
      await readCustomer(tx.execute, before.customer.id),
      `customer ${before.customer.id}`,
    );
    await writeDraft(tx, {
      actor: options.actor,
      quotationId: options.id,
      revision,
      customer,
      draft: await draftOf(tx, { shown: before.shown, customer }),
    });
    await writeAudit(tx.execute, options.actor, {
      kind: 'quotation',
      id: options.id,
      number: before.number,
      action: `drafted revision ${revision}`,
    });
    return loadQuotation(tx, options);
  });
}

/** The same lines as a quotation of its own. */
export function copyQuotation(db: Db, options: { actor: Actor; id: number }): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    const from = await loadQuotation(tx, options);
    const customer = orNotFound(
      await readCustomer(tx.execute, from.customer.id),
      `customer ${from.customer.id}`,
    );
    return writeFirst(tx, {
      actor: options.actor,
      customerId: from.customer.id,
      draft: withoutTrials(await draftOf(tx, { shown: from.shown, customer })),
      action: `copied from ${from.number}`,
    });
  });
}

/** Without charges for trials: a trial is charged once, and the quotation that was copied from does. */
const withoutTrials = (draft: QuotationDraft): QuotationDraft => ({
  ...draft,
  lines: draft.lines.map((line) => ({
    ...line,
    options: {
      ...line.options,
      oneOffs: line.options.oneOffs.filter(({ trialRunId }) => trialRunId === null),
    },
  })),
});

async function draftOf(
  tx: Tx,
  { shown, customer }: { shown: QuotationRevision; customer: PricedFor },
): Promise<QuotationDraft> {
  const [defaults, card, exchangeRates, parts, successors] = await Promise.all([
    readDefaults(tx.execute),
    readRateCard(tx.execute),
    readExchangeRates(tx.execute, { currency: customer.currency, limit: 1 }),
    queries.readLastRevisions(
      tx.execute,
      shown.lines.map(({ part }) => part.id),
    ),
    queries.readApprovedSuccessors(
      tx.execute,
      shown.lines.map(({ recipe }) => recipe.revisionId),
    ),
  ]);
  if (customer.currency !== defaults.baseCurrency && exchangeRates.length === 0)
    throw new DomainError(
      'conflict',
      `${customer.name} is quoted in ${customer.currency}: write down a rate of exchange from ${defaults.baseCurrency} first, under Rates.`,
    );
  const { contactName, enquiryReference, leadTimeDays, taxRatePercent, terms, customerNotes, internalNotes } =
    shown;
  return {
    contactName,
    enquiryReference,
    leadTimeDays,
    taxRatePercent,
    terms,
    customerNotes,
    internalNotes,
    validUntil: defaults.validUntil,
    rateCardId: card?.id ?? shown.rateCardId,
    exchangeRateId: exchangeRates[0]?.id ?? null,
    lines: shown.lines.map((line) => ({
      partId: parts.find(({ from }) => from === line.part.id)?.to ?? line.part.id,
      recipeRevisionId:
        successors.find(({ from }) => from === line.recipe.revisionId)?.to ?? line.recipe.revisionId,
      rackId: orNotFound(line.rackId, `rack of line ${line.position}`),
      supplyId: line.supplyId,
      quantities: line.breaks.map(({ quantity }) => quantity),
      options: orNotFound(line.options, `choices of line ${line.position}`),
    })),
  };
}
