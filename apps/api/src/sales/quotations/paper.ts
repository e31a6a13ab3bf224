import type { Quotation } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { quotationPdf } from '../../documents/quotation-pdf.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepPaper, readLastPaper, viewPapers } from '../../core/issued-papers/index.ts';
import * as queries from './queries.ts';
import { loadQuotation } from './read-quotation.ts';

const fileNameOf = ({ number, shown }: Quotation) => `${number}-rev-${shown.revision}.pdf`;

/**
 * Keeps the paper of a sent revision, drawn from what it was sent with. It is called in the transaction that sends; of
 * what was sent before papers were kept, in the one of the first download.
 */
export async function keepQuotationPaper(tx: Tx, quotation: Quotation) {
  const { shown, number } = quotation;
  const { shop, customer, sentById } = await queries.readLetterhead(tx.execute, shown.id);
  if (shown.sentAt === null || sentById === null) throw new Error(`${number} was not sent`);
  const sent = { at: shown.sentAt, by: shown.sentBy ?? '' };
  const shows = { quotation, shop, customer, sent };
  return keepPaper(tx, {
    kind: 'quotation',
    recordId: shown.id,
    title: `${number} revision ${shown.revision}`,
    fileName: fileNameOf(quotation),
    units: customer.units,
    issuedById: sentById,
    issuedAt: new Date(shown.sentAt),
    shows,
    draw: () => quotationPdf(shows),
  });
}

/** The paper of a revision: of a sent one the bytes that were sent, of a draft how it would look now. */
export async function printQuotation(
  db: Db,
  { actor, id, revision }: { actor: Actor; id: number; revision: number },
): Promise<{ name: string; file: Buffer }> {
  const quotation = await loadQuotation(db, { id, revision });
  const { shown, number } = quotation;
  const name = fileNameOf(quotation);
  if (shown.sentAt === null) {
    const { shop, customer } = await queries.readLetterhead(db.execute, shown.id);
    return { name, file: await quotationPdf({ quotation, shop, customer, sent: null }) };
  }
  const keptIn = (tx: Tx) => readLastPaper(tx, { kind: 'quotation', recordId: shown.id });
  const kept = await keptIn(db);
  if (kept !== null) return { name, file: Buffer.from(kept.bytes) };
  return inTransaction(db, async (tx) => {
    await queries.lockQuotation(tx.execute, id);
    const meanwhile = await keptIn(tx);
    if (meanwhile !== null) return { name, file: Buffer.from(meanwhile.bytes) };
    const { paper } = await keepQuotationPaper(tx, await loadQuotation(tx, { id, revision }));
    await writeAudit(tx.execute, actor, {
      kind: 'quotation',
      id,
      number,
      action: `kept the paper of revision ${revision}, made from what it was sent with`,
    });
    return { name, file: Buffer.from(paper.bytes) };
  });
}

/** The papers of every sent revision. */
export async function listPapers(db: Db, id: number) {
  const { revisions } = await loadQuotation(db, { id });
  const revisionOf = new Map(revisions.map((one) => [one.id, one.revision]));
  return viewPapers(db.execute, {
    kind: 'quotation',
    recordIds: [...revisionOf.keys()],
    pathOf: ({ recordId }) => `/quotations/${id}/revisions/${revisionOf.get(recordId)}/pdf`,
  });
}
