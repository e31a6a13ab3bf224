import type { Quotation } from '@huelot/contracts';
import { actorMay, type Actor } from '../../actor.ts';
import type { Tx } from '../../db/client.ts';
import { found } from '../../refusal.ts';
import * as queries from './queries.ts';

/** A quotation with one revision in full, the last unless another is asked for. */
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
