import type { createQuotation, Quotation, QuotationDraft, QuotationRevision } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { openLast, type On } from './open-last.ts';
import { CALC_VERSION, priceLines } from './price.ts';
import * as queries from './queries.ts';
import { readWhole } from './read-quotation.ts';
import { readCustomer, readDefaults, readRateCard } from './sheet-queries.ts';

/** The first draft of a quotation. */
export function create(
  db: Db,
  of: { actor: Actor; input: z.output<typeof createQuotation.body> },
): Promise<Quotation> {
  const { actor, input } = of;
  const { customerId, ...draft } = input;
  return inTransaction(db, (tx) => writeFirst(tx, { actor, customerId, draft, action: 'drafted' }));
}

async function writeFirst(
  tx: Tx,
  of: { actor: Actor; customerId: number; draft: QuotationDraft; action: string },
): Promise<Quotation> {
  const { actor, customerId, draft, action } = of;
  const customer = await readCustomer(tx.run, customerId);
  if (customer === null || customer.closed) throw invalid('customerId', 'is not a customer in use');
  const number = await nextNumber(tx.run, 'quotation');
  const { id } = await queries.addQuotation(tx, { number, customerId, createdById: actor.personId });
  await writeDraft(tx, {
    actor,
    quotationId: id,
    revision: 1,
    customerId,
    currency: customer.currency,
    draft,
  });
  await record(tx.run, actor, { kind: 'quotation', id, number, action });
  return readWhole(tx, { id });
}

async function writeDraft(
  tx: Tx,
  of: {
    actor: Actor;
    quotationId: number;
    revision: number;
    customerId: number;
    currency: string;
    draft: QuotationDraft;
  },
): Promise<void> {
  const { actor, quotationId, revision, customerId, currency, draft } = of;
  const priced = await priceLines(tx, { customerId, draft });
  const text = textOf(draft);
  const { id } = await queries.addRevision(tx, {
    ...text,
    quotationId,
    revision,
    currency,
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
  };
}

/** Changes the draft; what was sent is never touched. */
export function change(db: Db, of: On & { input: QuotationDraft }): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    const { shown, customer, number } = await openLast(tx, { ...of, states: ['draft'], doing: 'changed' });
    const priced = await priceLines(tx, { customerId: customer.id, draft: of.input });
    const { validUntil, ...text } = textOf(of.input);
    await queries.changeRevision(tx, shown.id, {
      ...text,
      validUntil: new Date(validUntil),
      calcVersion: CALC_VERSION,
    });
    await queries.replaceLines(tx, shown.id, priced);
    await record(tx.run, of.actor, {
      kind: 'quotation',
      id: of.id,
      number,
      action: `changed the draft of revision ${shown.revision}`,
    });
    return readWhole(tx, of);
  });
}

/** A new draft from the last revision, with today's rates and the approved revision of each recipe. */
export function revise(db: Db, of: { actor: Actor; id: number }): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    await queries.lockQuotation(tx.run, of.id);
    const before = await readWhole(tx, of);
    if (before.shown.status === 'draft')
      throw new Refusal(
        'conflict',
        `${before.number} has a draft already: revision ${before.shown.revision}.`,
      );
    if (before.shown.status === 'accepted')
      throw new Refusal('conflict', `${before.number} is accepted: change the order, or copy the quotation.`);
    const revision = before.shown.revision + 1;
    await writeDraft(tx, {
      actor: of.actor,
      quotationId: of.id,
      revision,
      customerId: before.customer.id,
      currency: before.shown.currency,
      draft: await draftOf(tx, before.shown),
    });
    await record(tx.run, of.actor, {
      kind: 'quotation',
      id: of.id,
      number: before.number,
      action: `drafted revision ${revision}`,
    });
    return readWhole(tx, of);
  });
}

/** The same lines as a quotation of its own. */
export function copy(db: Db, of: { actor: Actor; id: number }): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    const from = await readWhole(tx, of);
    return writeFirst(tx, {
      actor: of.actor,
      customerId: from.customer.id,
      draft: await draftOf(tx, from.shown),
      action: `copied from ${from.number}`,
    });
  });
}

async function draftOf(tx: Tx, shown: QuotationRevision): Promise<QuotationDraft> {
  const [defaults, card, successors] = await Promise.all([
    readDefaults(tx.run),
    readRateCard(tx.run),
    queries.readApprovedSuccessors(
      tx.run,
      shown.lines.map(({ recipe }) => recipe.revisionId),
    ),
  ]);
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
    lines: shown.lines.map((line) => ({
      partId: line.part.id,
      recipeRevisionId:
        successors.find(({ from }) => from === line.recipe.revisionId)?.to ?? line.recipe.revisionId,
      rackId: found(line.rackId, `rack of line ${line.position}`),
      supplyId: line.supplyId,
      quantities: line.breaks.map(({ quantity }) => quantity),
      options: found(line.options, `choices of line ${line.position}`),
    })),
  };
}
