import { contentsNames, factorFaults, isTrialDriven, type TrialPlan, type TrialRun } from '@huelot/contracts';
import { readCouponSeries } from '../../colour/coupons/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertOpen } from './floor.ts';
import { fieldError } from '../../kernel/refusal.ts';
import { readPlace } from '../travelers/index.ts';
import * as queries from './queries.ts';
import { readTrialRun } from './view.ts';

/** Plans coupons or a strip for a draft of a series. Whether the bath may be used is asked when they go in. */
export function planTrialRun(
  db: Db,
  { actor, input }: { actor: Actor; input: TrialPlan },
): Promise<TrialRun> {
  return inTransaction(db, async (tx) => {
    const { seriesId, ...plan } = input;
    const series = await readCouponSeries(tx.execute, seriesId);
    const { code, contents, component, unit, referenceTemperatureC, material } = series;
    if (series.status !== 'draft')
      throw fieldError(
        'seriesId',
        `${code} revision ${series.revision} is ${series.status}: plan for a draft of it`,
      );
    const [fault] = factorFaults(contents, {
      ...{
        coatingThicknessUm: plan.coatingThicknessUm,
        temperatureC: plan.temperatureC,
        voltageV: plan.voltageV,
      },
      ...{ timeS: plan.timeS ?? plan.intervalS, strength: 1 },
    });
    if (fault !== undefined) throw fieldError(fault.factor, fault.message);
    const place = await readPlace(tx.execute, { tankId: plan.tankId, supplyId: plan.supplyId });
    if (place.contents === null) throw fieldError('tankId', 'is not a tank of this shop');
    if (place.contents !== contents)
      throw fieldError(
        'tankId',
        `holds ${contentsNames[place.contents]}; the series is for ${contentsNames[contents]}`,
      );
    if (isTrialDriven(contents) && plan.supplyId === null)
      throw fieldError('supplyId', 'must be filled in: these coupons are coloured by current');
    if (plan.supplyId !== null && !place.supplyServesTank)
      throw fieldError('supplyId', 'is not connected to that tank');
    const { id } = await queries.addRun(tx, {
      ...plan,
      number: await nextNumber(tx.execute, 'trial-run'),
      ...{ seriesCode: code, materialId: material.id, contents, component, unit, referenceTemperatureC },
      plannedById: actor.personId,
    });
    const planned = await readTrialRun(tx.execute, id);
    await writeAudit(tx.execute, actor, {
      ...aboutRun(planned),
      action: `planned ${plan.kind === 'strip' ? `a strip of ${plan.pieces} bands` : `${plan.pieces} coupons`} for ${code} in tank ${planned.tank.code}`,
    });
    return planned;
  });
}

export const aboutRun = ({ id, number }: Pick<TrialRun, 'id' | 'number'>) =>
  ({ kind: 'trial-run', id, number }) as const;

/** Withdraws a run that is not signed; what happened at the tank stays on record. */
export function withdrawTrialRun(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<TrialRun> {
  return inTransaction(db, async (tx) => {
    const run = await assertOpen(tx.execute, id);
    await queries.withdrawRun(tx.execute, { id, personId: actor.personId, reason });
    await writeAudit(tx.execute, actor, { ...aboutRun(run), action: 'withdrew', reason });
    return readTrialRun(tx.execute, id);
  });
}
