import type { Quotation, QuotationRevision } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import type { Tx } from '../../db/client.ts';
import { checkVersion, Refusal } from '../../refusal.ts';
import * as queries from './queries.ts';
import { readWhole } from './read-quotation.ts';

/** Who acts on which quotation, as they saw it. */
export interface On {
  actor: Actor;
  id: number;
  version: number;
}

/** Locks a quotation and checks that its last revision is the one the caller saw, in the state the action needs. */
export async function openLast(
  tx: Tx,
  of: On & { states: QuotationRevision['status'][]; doing: string },
): Promise<Quotation> {
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
