import type { InspectionPlan, Lot, LotInspection, LotSummary } from '@huelot/contracts';
import { good, mainLine, ok, post, reading, signOff } from './main-line.ts';

export const everyPiece = {
  ...{ name: 'Film', kind: 'visual', method: 'by eye at 300 mm, 1000 lx', instrument: '' },
  ...{ acceptance: 'no powder, no bare spot', sampling: null },
};
export const sampled = (sampling: object = {}) => ({
  ...{ name: 'Rub test', kind: 'adhesion', method: 'ten double rubs with a dry cloth', instrument: 'cloth' },
  ...{
    acceptance: 'no colour on the cloth',
    sampling: { level: 'II', aql: '4.0', limitNumber: null, ...sampling },
  },
});

/** A shop whose part has an inspection plan, and lots of 24 pieces that come off the last step. */
export async function inspectedLine() {
  const line = await mainLine();
  const { quality, operator, planner, releasedLots, opened, shop } = line;
  const planOf = (ask = quality) =>
    ok<InspectionPlan>(ask({ url: `/api/parts/${shop.partId}/inspection-plan` }));
  async function write(characteristics: object[], ask = quality) {
    const { revision } = await planOf();
    return ask({
      method: 'PUT',
      url: `/api/parts/${shop.partId}/inspection-plan`,
      payload: { follows: revision, note: 'as agreed with the customer', characteristics },
    });
  }
  /** A lot of which every step is signed. */
  async function finished(): Promise<LotSummary> {
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
    return lot;
  }
  const stateOf = (lotId: number) => ok<LotInspection>(quality({ url: `/api/lots/${lotId}/inspection` }));
  async function inspect(lotId: number, input: { name: string; [field: string]: unknown }, ask = quality) {
    const { name, ...counts } = input;
    const { characteristics } = await stateOf(lotId);
    const one = characteristics.find((row) => row.name === name);
    return post(ask, `/lots/${lotId}/inspection`, {
      ...{ characteristicId: one?.id ?? 0, inspected: one?.asked?.inspect ?? 24, found: 0 },
      ...{ isScreening: false, instrumentId: null, notes: '', ...counts },
    });
  }
  const check = (lotId: number, counts: object = {}) =>
    post(quality, `/lots/${lotId}/final-check`, {
      ...{ acceptedCount: 24, rejectedCount: 0, reworkCount: 0, reason: '', notes: '', ...counts },
    });
  const accepted = (lotId: number, counts: object = {}) => ok<Lot>(check(lotId, counts), 201);
  const ship = (lotId: number) =>
    post(planner, `/lots/${lotId}/shipments`, { quantity: 1, carrier: '', document: '', notes: '' });
  const resume = (name: string, reason = 'seal bath made up anew') =>
    post(quality, `/parts/${shop.partId}/inspection-plan/resume`, { name, reason });
  return { ...line, ...{ planOf, write, finished, stateOf, inspect, check, accepted, ship, resume } };
}
