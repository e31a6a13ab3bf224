import type {
  closeQuotation,
  createQuotation,
  Quotation,
  QuotationDraft,
  QuotationRevision,
} from '@huelot/contracts';
import type { z } from 'zod';
import { actorMay, type Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { CALC_VERSION, priceLines } from './price.ts';
import * as queries from './queries.ts';
import { readApprovedSuccessors } from './queries.ts';
import { readCustomer, readDefaults, readRateCard } from './sheet-queries.ts';

export const readWhole = async (
  db: Tx,
  of: { id: number; revision?: number | undefined },
): Promise<Quotation> =>
  found(
    await queries.readQuotation(db.run, of),
    `quotation ${of.id}${of.revision === undefined ? '' : ` revision ${of.revision}`}`,
  );

/** Build-ups and choices that show rates are left out for those who may not see rates. */
export function forEyesOf(actor: Actor, quotation: Quotation): Quotation {
  if (actorMay(actor, 'rates.read')) return quotation;
  const lines = quotation.shown.lines.map(({ options: _options, ...line }) => ({
    ...line,
    breaks: line.breaks.map(({ buildUp: _buildUp, ...price }) => price),
  }));
  return { ...quotation, shown: { ...quotation.shown, internalNotes: '', lines } };
}

interface On {
  actor: Actor;
  id: number;
  version: number;
}

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

/** Locks a quotation and checks that its last revision is the one the caller saw, in the state the action needs. */
async function openLast(tx: Tx, of: On & { states: QuotationRevision['status'][]; doing: string }) {
  await queries.lockQuotation(tx.run, of.id);
  const quotation = await readWhole(tx, of);
  checkVersion({ stored: quotation, version: of.version, what: `Quotation ${quotation.number}` });
  const { shown, number } = quotation;
  if (!of.states.includes(shown.status)) {
    throw new Refusal(
      shown.status === 'draft' ? 'conflict' : 'frozen',
      `${number} revision ${shown.revision} is ${shown.status}: it cannot be ${of.doing}. Make a new revision.`,
    );
  }
  return quotation;
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

/** Freezes the draft: from here on the database refuses to change it, and the revision before it is superseded. */
export function send(db: Db, of: On): Promise<Quotation> {
  return inTransaction(db, async (tx) => {
    const { shown, number } = await openLast(tx, { ...of, states: ['draft'], doing: 'sent' });
    const { day } = await readDefaults(tx.run);
    if (shown.validUntil < day)
      throw new Refusal(
        'conflict',
        `The offer would be valid until ${shown.validUntil}, which is past. Change the date first.`,
      );
    await queries.supersedeSent(tx.run, of.id);
    await queries.changeRevision(tx, shown.id, {
      status: 'sent',
      sentAt: new Date(),
      sentById: of.actor.personId,
    });
    await record(tx.run, of.actor, {
      kind: 'quotation',
      id: of.id,
      number,
      action: `sent revision ${shown.revision}`,
    });
    return readWhole(tx, of);
  });
}

/** Books how it ended when it did not end in an order. */
export function close(db: Db, of: On & { input: z.output<typeof closeQuotation.body> }): Promise<Quotation> {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    const { shown, number } = await openLast(tx, { ...of, states: ['sent', 'lapsed'], doing: input.outcome });
    await queries.changeRevision(tx, shown.id, {
      status: input.outcome,
      decidedAt: new Date(),
      decidedById: actor.personId,
      decisionReason: input.reason,
    });
    await record(tx.run, actor, {
      kind: 'quotation',
      id: of.id,
      number,
      action: `booked revision ${shown.revision} as ${input.outcome}`,
      reason: input.reason,
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
    readApprovedSuccessors(
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

/**
 * Marks the sent revision accepted and returns what the order is made of. The caller makes the order in the same
 * transaction.
 */
export async function acceptSentRevision(
  tx: Tx,
  of: { actor: Actor; quotationId: number; picks: { lineId: number; breakId: number }[] },
) {
  const { actor, quotationId, picks } = of;
  await queries.lockQuotation(tx.run, quotationId);
  const { revisions } = await readWhole(tx, { id: quotationId });
  const out = revisions.find(({ status }) => status === 'sent' || status === 'lapsed');
  const quotation = await readWhole(tx, { id: quotationId, revision: out?.revision });
  const { shown, number } = quotation;
  if (shown.status !== 'sent') {
    throw new Refusal(
      'conflict',
      shown.status === 'lapsed'
        ? `${number} revision ${shown.revision} lapsed on ${shown.validUntil}: revise and send it again.`
        : `${number} revision ${shown.revision} is ${shown.status}; only a sent one is accepted.`,
    );
  }
  const lines = picks.map(({ lineId, breakId }, at) => {
    const line = shown.lines.find(({ id }) => id === lineId);
    if (line === undefined) throw invalid(`lines.${at}.lineId`, 'is not a line of the sent revision');
    if (picks.findIndex((other) => other.lineId === lineId) !== at)
      throw invalid(`lines.${at}.lineId`, 'is there twice');
    const picked = line.breaks.find(({ id }) => id === breakId);
    if (picked === undefined) throw invalid(`lines.${at}.breakId`, 'is not a quantity of that line');
    return {
      partId: line.part.id,
      recipeRevisionId: line.recipe.revisionId,
      quotationLineId: line.id,
      rackId: line.rackId,
      supplyId: line.supplyId,
      quantity: picked.quantity,
      unitPrice: picked.unitPrice,
      totalPrice: picked.totalPrice,
      certificate: line.certificate,
      inspectionLevel: line.inspectionLevel,
    };
  });
  await queries.changeRevision(tx, shown.id, {
    status: 'accepted',
    decidedAt: new Date(),
    decidedById: actor.personId,
  });
  await record(tx.run, actor, {
    kind: 'quotation',
    id: quotationId,
    number,
    action: `accepted revision ${shown.revision}`,
  });
  return {
    number,
    revision: shown.revision,
    revisionId: shown.id,
    customerId: quotation.customer.id,
    currency: shown.currency,
    lines,
  };
}
