import type { Lot, LotSummary, Nonconformance } from '@huelot/contracts';
import type { Ask } from './app.ts';
import { good, mainLine, ok, post, reading, signOff } from './main-line.ts';

/** A shop whose lots have rejects, and what is done about them. */
export async function nonconformingLine() {
  const line = await mainLine();
  const { operator, planner, quality, releasedLots, opened } = line;
  /** A lot through its steps and its final check, with pieces rejected. */
  async function checked({ rejected = 4, rework = 0 } = {}): Promise<Lot> {
    const [lot] = (await releasedLots()) as [LotSummary];
    for (const { id, position } of (await opened(lot.id)).steps)
      await ok(
        post(
          operator,
          `/steps/${id}/sign-off`,
          signOff(24, position === 1 ? [reading('temperatureC', 60)] : (good[position] ?? [])),
        ),
        201,
      );
    const check = {
      ...{ acceptedCount: 24 - rejected - rework, rejectedCount: rejected, reworkCount: rework },
      ...{ reason: 'powdery at the edge', notes: '' },
    };
    return ok<Lot>(post(quality, `/lots/${lot.id}/final-check`, check), 201);
  }
  const lotNow = (id: number) => ok<Lot>(quality({ url: `/api/lots/${id}` }));
  const found = (extra: object = {}) => ({
    ...{ holdId: null, finalCheckId: null, shipmentId: null, foundOn: '2026-01-05', foundAt: 'inspection' },
    ...{
      foundBy: 'Quality',
      customerReference: '',
      piecesAffected: 4,
      piecesInspected: 24,
      fault: 'powdery',
    },
    ...{ place: 'outer edge', description: 'rubs off with a cloth', requirement: 'no loose film' },
    ...{
      measuredValue: null,
      measuredUnit: '',
      containment: 'set aside in the cage',
      photoIds: [],
      ...extra,
    },
  });
  const open = (lotId: number, extra: object = {}, ask: Ask = quality) =>
    post(ask, `/lots/${lotId}/nonconformances`, found(extra));
  const disposition = (extra: object = {}) => ({
    ...{ disposition: 'scrap', pieces: 4, takenFrom: 'rejected', authority: 'head of quality' },
    ...{ concessionNumber: '', concessionBy: '', reason: 'film cannot be saved', ...extra },
  });
  const dispose = (id: number, extra: object = {}, ask: Ask = quality) =>
    post(ask, `/nonconformances/${id}/dispositions`, disposition(extra));
  const entry = (id: number, body: object, ask: Ask = quality) =>
    post(ask, `/nonconformances/${id}/entries`, body);
  const ship = (id: number, quantity: number) =>
    post(planner, `/lots/${id}/shipments`, { quantity, carrier: 'van', document: '', notes: '' });
  const checkOf = (lot: Lot) => ({ finalCheckId: lot.checks[0]?.id ?? 0 });

  /** Cause, action, its end and its effect: all that is missing but the dispositions. */
  async function answer(id: number): Promise<Nonconformance> {
    await ok(entry(id, { kind: 'cause', text: 'voltage rose too fast' }), 201);
    const { entries } = await ok<Nonconformance>(
      entry(id, { kind: 'action', text: 'slow ramp', ownerId: operator.personId, dueOn: '2026-01-20' }),
      201,
    );
    const actionId = entries.at(-1)?.id;
    await ok(entry(id, { kind: 'action-done', text: 'recipe revised', actionId }, operator), 201);
    return ok<Nonconformance>(
      entry(id, { kind: 'effect', text: 'three lots without powder', actionId, effective: true }),
      201,
    );
  }

  return {
    ...line,
    ...{ checked, lotNow, open, dispose, entry, ship, checkOf, answer },
  };
}
