import type { BathChart, getBathChart, setChartBaseline } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { found } from '../../refusal.ts';
import { record } from '../audit/index.ts';
import { readSetupsOf } from '../baths/index.ts';
import { readTank } from '../tanks/index.ts';
import * as queries from './chart-queries.ts';

type Query = z.output<typeof getBathChart.query>;

/** One component of a tank over its fills, with what was done to it. */
export async function viewChart(db: Queryable, of: { tankId: number; query: Query }): Promise<BathChart> {
  const { tankId, query } = of;
  const { run } = db;
  const { id, code, name } = found(await readTank(db, tankId), `tank ${tankId}`);
  const [fills, { bathId, ...points }, components, events, baseline] = await Promise.all([
    queries.readFills(run, tankId),
    queries.readPoints(run, { tankId, ...query }),
    queries.readChartComponents(run, tankId),
    queries.readEvents(run, { tankId, from: query.from, to: query.to }),
    queries.readBaseline(run, { tankId, component: query.component }),
  ]);
  const place = new Map(fills.map((fill, at) => [fill.bathId, at]));
  const last = fills.at(-1);
  const setup = last === undefined ? undefined : (await readSetupsOf(run, [last.bathId])).get(last.bathId);
  return {
    tank: { id, code, name },
    component: query.component,
    setup: setup?.components.find(({ key }) => key === query.component) ?? null,
    components,
    fills: fills.map((fill) => ({
      ...fill,
      madeUpAt: fill.madeUpAt.toISOString(),
      dumpedAt: fill.dumpedAt?.toISOString() ?? null,
    })),
    points: { ...points, fill: bathId.map((one) => place.get(one) ?? 0) },
    events,
    baseline: baseline === null ? null : toBaseline(baseline),
  };
}

const toBaseline = (row: NonNullable<Awaited<ReturnType<typeof queries.readBaseline>>>) => ({
  ...row,
  from: row.from.toISOString(),
  to: row.to.toISOString(),
  setAt: row.setAt.toISOString(),
});

/** Chooses the stretch that control limits are reckoned from; the choices before it stay on record. */
export async function chooseBaseline(
  db: Db,
  of: { actor: Actor; tankId: number; input: z.output<typeof setChartBaseline.body> },
) {
  const { actor, tankId, input } = of;
  return inTransaction(db, async (tx) => {
    const tank = found(await readTank(tx, tankId), `tank ${tankId}`);
    await queries.addBaseline(tx.run, { tankId, ...input, setById: actor.personId });
    await record(tx.run, actor, {
      kind: 'tank',
      id: tankId,
      number: tank.code,
      action: `chose a baseline for ${input.component}`,
      changes: [{ field: 'baseline', old: null, new: { from: input.from, to: input.to } }],
      reason: input.reason,
    });
    return toBaseline(
      found(await queries.readBaseline(tx.run, { tankId, component: input.component }), 'baseline'),
    );
  });
}
