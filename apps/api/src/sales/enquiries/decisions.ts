import type { Enquiry, EnquiryStatus } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { aboutEnquiry, lockedEnquiry, readEnquiry } from './enquiries.ts';
import * as queries from './queries.ts';

interface On {
  actor: Actor;
  id: number;
  version: number;
}

const statusWords: Record<EnquiryStatus, string> = {
  open: 'open',
  'trial-asked': 'waiting for a trial',
  quoted: 'quoted',
  declined: 'declined',
};

function refuseUnless(enquiry: Enquiry, states: readonly EnquiryStatus[], doing: string): void {
  if (!states.includes(enquiry.status))
    throw new DomainError(
      'conflict',
      `${enquiry.number} is ${statusWords[enquiry.status]}${enquiry.quotation ? ` in ${enquiry.quotation.number}` : ''}: it cannot be ${doing}.`,
    );
}

async function move(
  tx: Tx,
  actor: Actor,
  {
    enquiry,
    action,
    ...decision
  }: {
    enquiry: Enquiry;
    action: string;
    status: EnquiryStatus;
    reason: string;
    record?: string;
    moved?: Parameters<typeof queries.addDecision>[2]['moved'];
  },
): Promise<Enquiry> {
  const { record = '', moved = {}, status, reason } = decision;
  await queries.addDecision(tx, enquiry.id, { status, reason, record, moved, personId: actor.personId });
  await writeAudit(tx.execute, actor, {
    ...aboutEnquiry(enquiry),
    action,
    changes: [{ field: 'status', old: enquiry.status, new: status }],
    reason,
  });
  return readEnquiry(tx, enquiry.id);
}

/** Asks the lab for a trial; on which coupons may be said now or later. */
export function askTrial(
  db: Db,
  { reason, seriesId, ...on }: On & { reason: string; seriesId: number | null },
): Promise<Enquiry> {
  return inTransaction(db, async (tx) => {
    const enquiry = await lockedEnquiry(tx, on);
    refuseUnless(enquiry, ['open'], 'asked to be tried');
    const series = seriesId === null ? null : await seriesOf(tx, seriesId);
    return move(tx, on.actor, {
      ...{ enquiry, status: 'trial-asked', reason, record: series ?? '' },
      ...(seriesId === null ? {} : { moved: { seriesId } }),
      action: series === null ? 'asked for a trial' : `asked for a trial on ${series}`,
    });
  });
}

/** Says which coupons try it. */
export function linkSeries(db: Db, { seriesId, ...on }: On & { seriesId: number }): Promise<Enquiry> {
  return inTransaction(db, async (tx) => {
    const enquiry = await lockedEnquiry(tx, on);
    refuseUnless(enquiry, ['trial-asked'], 'tried: nobody asked for a trial');
    const name = await seriesOf(tx, seriesId);
    await queries.setSeries(tx, enquiry.id, seriesId);
    await writeAudit(tx.execute, on.actor, {
      ...aboutEnquiry(enquiry),
      action: `is tried on ${name}`,
      changes: [
        {
          field: 'couponSeries',
          old: enquiry.series === null ? null : `${enquiry.series.code} rev ${enquiry.series.revision}`,
          new: name,
        },
      ],
    });
    return readEnquiry(tx, enquiry.id);
  });
}

async function seriesOf(tx: Tx, seriesId: number): Promise<string> {
  const series = await queries.readSeries(tx.execute, seriesId);
  if (series === null) throw fieldError('seriesId', `there is no coupon series ${seriesId}`);
  const name = `${series.code} rev ${series.revision}`;
  if (series.status === 'retired' || series.status === 'superseded')
    throw fieldError('seriesId', `${name} is ${series.status}: choose a draft, or an approved series`);
  return name;
}

/** Declines with a reason, which stays whatever comes later. */
export function declineEnquiry(db: Db, { reason, ...on }: On & { reason: string }): Promise<Enquiry> {
  return inTransaction(db, async (tx) => {
    const enquiry = await lockedEnquiry(tx, on);
    refuseUnless(enquiry, ['open', 'trial-asked'], 'declined');
    return move(tx, on.actor, { enquiry, status: 'declined', reason, action: 'declined' });
  });
}

/** Opens a declined enquiry again. */
export function reopenEnquiry(db: Db, { reason, ...on }: On & { reason: string }): Promise<Enquiry> {
  return inTransaction(db, async (tx) => {
    const enquiry = await lockedEnquiry(tx, on);
    refuseUnless(enquiry, ['declined'], 'opened again');
    return move(tx, on.actor, { enquiry, status: 'open', reason, action: 'opened again' });
  });
}

/**
 * Answers an enquiry by a quotation, in the transaction that drafts it. Who had no record of a customer gets that of the
 * quotation.
 *
 * @example
 * await answerByQuotation(tx, { actor, enquiryId, quotation: { id, number, customerId } });
 */
export async function answerByQuotation(
  tx: Tx,
  {
    actor,
    enquiryId,
    quotation,
  }: { actor: Actor; enquiryId: number; quotation: { id: number; number: string; customerId: number } },
): Promise<void> {
  await queries.lockEnquiry(tx.execute, enquiryId);
  const found = await queries.readEnquiry(tx.execute, enquiryId);
  if (found === null) throw fieldError('enquiryId', `there is no enquiry ${enquiryId}`);
  const enquiry = await readEnquiry(tx, enquiryId);
  refuseUnless(enquiry, ['open', 'trial-asked'], 'quoted');
  if (enquiry.customer !== null && enquiry.customer.id !== quotation.customerId)
    throw fieldError('enquiryId', `is of ${enquiry.customer.name}, not of this customer`);
  await move(tx, actor, {
    ...{ enquiry, status: 'quoted', record: quotation.number, reason: `quoted as ${quotation.number}` },
    moved: {
      quotationId: quotation.id,
      ...(enquiry.customer === null ? { customerId: quotation.customerId } : {}),
    },
    action: `answered by ${quotation.number}`,
  });
}

/** Opens the enquiry that a quotation answered, before a quotation that was only a draft is discarded. */
export async function reopenForDiscarded(
  tx: Tx,
  { actor, quotation }: { actor: Actor; quotation: { id: number; number: string } },
): Promise<void> {
  const id = await queries.readIdOfQuotation(tx.execute, quotation.id);
  if (id === null) return;
  await queries.lockEnquiry(tx.execute, id);
  const enquiry = orNotFound(await readEnquiry(tx, id), `enquiry ${id}`);
  await move(tx, actor, {
    ...{ enquiry, status: 'open', record: quotation.number, moved: { quotationId: null } },
    reason: `the draft ${quotation.number} was discarded`,
    action: 'opened again',
  });
}
