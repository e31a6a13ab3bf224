import type { InvoiceFacts, InvoiceKind } from '@huelot/contracts';
import { keepPaper, readPaper } from '../../core/issued-papers/index.ts';
import type { Queryable, Tx } from '../../db/client.ts';
import { invoicePdf } from '../../documents/invoice-pdf.ts';
import { fileFaults, invoiceUbl } from '../../documents/invoice-ubl.ts';
import { DomainError, orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

const titles = { invoice: 'Invoice', 'credit-note': 'Credit note' } as const;

/** Keeps the PDF of what is issued, and its structured file where nothing is missing for one. */
export async function keepInvoicePapers(
  tx: Tx,
  {
    id,
    kind,
    number,
    facts,
    issuedAt,
    issuedBy,
    issuedById,
  }: {
    id: number;
    kind: InvoiceKind;
    number: string;
    facts: InvoiceFacts;
    issuedAt: Date;
    issuedBy: string;
    issuedById: number;
  },
): Promise<void> {
  const shows = { kind, number, facts, issuedAt: issuedAt.toISOString(), issuedBy };
  const record = { recordId: id, units: facts.shop.units, issuedById, issuedAt, shows };
  const title = `${titles[kind]} ${number}`;
  await keepPaper(tx, { ...record, kind, title, fileName: `${number}.pdf`, draw: () => invoicePdf(shows) });
  if (fileFaults({ kind, facts }).length > 0) return;
  await keepPaper(tx, {
    ...{ ...record, kind: 'invoice-file', title: `${title}, structured`, fileName: `${number}.xml` },
    draw: () => Promise.resolve(Buffer.from(invoiceUbl({ kind, number, facts }))),
  });
}

/** The paper as it was issued. */
export async function print(db: Queryable, id: number): Promise<{ name: string; file: Buffer }> {
  const { kind } = await issued(db, id);
  const { fileName, bytes } = orNotFound(
    await readPaper(db, { kind, recordId: id, issue: 1 }),
    `paper of invoice ${id}`,
  );
  return { name: fileName, file: Buffer.from(bytes) };
}

/** The structured file as it was issued; where there is none, what it would have needed. */
export async function readFile(db: Queryable, id: number): Promise<{ name: string; file: Buffer }> {
  const { kind, number, facts } = await issued(db, id);
  const kept = await readPaper(db, { kind: 'invoice-file', recordId: id, issue: 1 });
  if (kept !== null) return { name: kept.fileName, file: Buffer.from(kept.bytes) };
  const faults = fileFaults({ kind, facts });
  throw new DomainError(
    'conflict',
    `There is no structured file of ${number}. When it was issued: ${faults.join(' ')} Enter it, credit ${number} and issue it anew.`,
  );
}

async function issued(db: Queryable, id: number) {
  const { kind, number, facts } = orNotFound(await queries.readInvoice(db.execute, id), `invoice ${id}`);
  if (facts === null || number === null)
    throw new DomainError('conflict', 'A draft has no paper: it gets one when it is issued.');
  return { kind, number, facts };
}
