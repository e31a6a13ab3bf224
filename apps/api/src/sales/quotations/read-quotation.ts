import type { Quotation } from '@huelot/contracts';
import { actorMay, type Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { withEvidence } from './evidence.ts';
import * as queries from './queries.ts';

/** A quotation with one revision in full, the last unless another is asked for. */
export const loadQuotation = async (
  db: Tx,
  options: { id: number; revision?: number | undefined },
): Promise<Quotation> =>
  withEvidence(
    db.execute,
    orNotFound(
      await queries.readQuotation(db.execute, options),
      `quotation ${options.id}${options.revision === undefined ? '' : ` revision ${options.revision}`}`,
    ),
  );

/** Build-ups and choices that show rates are left out for those who may not see rates. */
export function redactRates(actor: Actor, quotation: Quotation): Quotation {
  if (actorMay(actor, 'rates.read')) return quotation;
  const lines = quotation.shown.lines.map(({ options: _options, ...line }) => ({
    ...line,
    breaks: line.breaks.map(({ buildUp: _buildUp, ...price }) => price),
  }));
  return { ...quotation, shown: { ...quotation.shown, internalNotes: '', lines } };
}
