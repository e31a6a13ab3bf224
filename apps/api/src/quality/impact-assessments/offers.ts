import { type AssessmentOffer, CauseKind } from '@huelot/contracts';
import { writeAudit, type Entry } from '../../core/audit/index.ts';
import { inTransaction, type Db, type Queryable, type SqlExecutor, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { readOffers } from './causes.ts';
import * as queries from './queries.ts';
import { addDismissal } from './write-queries.ts';

/** `bath-stop-12` as kind and key. */
export function causeOf(cause: string): { kind: CauseKind; key: number } {
  const dash = cause.lastIndexOf('-');
  return { kind: CauseKind.parse(cause.slice(0, dash)), key: Number(cause.slice(dash + 1)) };
}

/** The offer of a cause as it stands; refuses one that is answered already or that the record does not hold. */
export async function readOffer(execute: SqlExecutor, cause: string): Promise<AssessmentOffer> {
  const wanted = causeOf(cause);
  const [offer] = await readOffers(execute, wanted);
  if (offer !== undefined) return offer;
  const answer = await queries.readAnswer(execute, wanted);
  throw answer === null
    ? new DomainError('not-found', `The record offers no assessment of ${cause}.`)
    : new DomainError('already-exists', answer);
}

export const listOffers = async (db: Queryable) => ({ items: await readOffers(db.execute) });

/** Nobody answers the same offer twice at once: whoever comes second waits, and then finds the answer. */
export const lockCause = (tx: Tx, cause: string) => queries.lockWord(tx.execute, `assessment of ${cause}`);

/** The record whose history tells of a dismissal: the lot, the instrument or the analysis. */
function recordOf({ kind, lotId, about }: AssessmentOffer, key: number): Pick<Entry, 'kind' | 'id'> {
  if (lotId !== null) return { kind: 'lot', id: lotId };
  if (kind === 'calibration-failed')
    return { kind: 'instrument', id: Number(about?.slice('instrument-'.length)) };
  return { kind: 'analysis', id: key };
}

/** Says why what the record offers needs no assessment. It is offered no more. */
export function dismiss(db: Db, { actor, cause, reason }: { actor: Actor; cause: string; reason: string }) {
  return inTransaction(db, async (tx) => {
    await lockCause(tx, cause);
    const offer = await readOffer(tx.execute, cause);
    const { title } = offer;
    const { kind, key } = causeOf(cause);
    await addDismissal(tx, {
      ...{ causeKind: kind, causeId: key, title, reason, dismissedById: actor.personId },
    });
    await writeAudit(tx.execute, actor, {
      ...recordOf(offer, key),
      action: `dismissed what was offered to assess: ${title}`,
      reason,
    });
    return { items: await readOffers(tx.execute) };
  });
}
