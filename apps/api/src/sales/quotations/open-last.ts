import type { Quotation, QuotationRevision } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { assertVersion, DomainError } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';
import { loadQuotation } from './read-quotation.ts';

/** Who acts on which quotation, as they saw it. */
export interface On {
  actor: Actor;
  id: number;
  version: number;
}

/** Locks a quotation and checks that its last revision is the one the caller saw, in the state the action needs. */
export async function lockLatestRevision(
  tx: Tx,
  options: On & { states: QuotationRevision['status'][]; doing: string },
): Promise<Quotation> {
  await queries.lockQuotation(tx.execute, options.id);
  const quotation = await loadQuotation(tx, options);
  assertVersion({ stored: quotation, version: options.version, what: `Quotation ${quotation.number}` });
  const { shown, number } = quotation;
  if (!options.states.includes(shown.status)) {
    throw new DomainError(
      shown.status === 'draft' ? 'conflict' : 'immutable',
      `${number} revision ${shown.revision} is ${shown.status}: it cannot be ${options.doing}. Make a new revision.`,
    );
  }
  return quotation;
}
