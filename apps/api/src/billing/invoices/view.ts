import { sumOfAmounts, type Invoice } from '@huelot/contracts';
import type { Tx } from '../../db/client.ts';
import { fileFaults } from '../../documents/invoice-ubl.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { factsOf } from './facts.ts';
import { readCreditNotes, readLeft } from './credit-queries.ts';
import { readPayments } from './payment-queries.ts';
import * as queries from './queries.ts';

/** An invoice as its page shows it: what it said when it was issued; a draft as it would say it now. */
export async function view(tx: Tx, id: number): Promise<Invoice> {
  const row = orNotFound(await queries.readInvoice(tx.execute, id), `invoice ${id}`);
  const facts = row.facts ?? (await factsOf(tx, row));
  const [creditNotes, left, payments] = await Promise.all([
    readCreditNotes(tx.execute, id),
    row.issuedAt === null || row.kind === 'credit-note' ? [] : readLeft(tx.execute, id),
    readPayments(tx.execute, id),
  ]);
  return {
    ...{
      id,
      kind: row.kind,
      number: row.number,
      state: row.state,
      customer: row.customer,
      currency: row.currency,
    },
    ...{ issuedOn: row.issuedOn, dueOn: row.dueOn, net: facts.net, gross: facts.gross },
    open: sumOfAmounts([row.open], row.currency),
    facts,
    credits: row.credits === null ? null : { id: row.credits.id, number: row.credits.number },
    ...{ frees: row.frees, creditNotes, left, payments },
    ...{ createdBy: row.createdBy, issuedBy: row.issuedBy, issuedAt: row.issuedAt?.toISOString() ?? null },
    fileFaults: row.hasFile ? [] : fileFaults({ kind: row.kind, facts }),
    hasFile: row.hasFile,
    version: row.version,
  };
}
