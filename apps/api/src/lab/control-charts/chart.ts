import type { BathChart, BathWork, getBathChart, setChartBaseline } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { orNotFound } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { readSetupsOf, readUse } from '../baths/index.ts';
import { readTank } from '../../catalog/equipment/index.ts';
import * as queries from './queries.ts';

type Query = z.output<typeof getBathChart.query>;

/** One component of a tank over its baths, with what was done to it. */
export async function viewChart(
  db: Queryable,
  { tankId, query }: { tankId: number; query: Query },
): Promise<BathChart> {
  const { execute } = db;
  const { id, code, name } = orNotFound(await readTank(db, tankId), `tank ${tankId}`);
  const [fills, { bathId, ...points }, components, events, baseline] = await Promise.all([
    queries.readFills(execute, tankId),
    queries.readPoints(execute, { tankId, ...query }),
    queries.readChartComponents(execute, tankId),
    queries.readEvents(execute, { tankId, from: query.from, to: query.to }),
    queries.readBaseline(execute, { tankId, component: query.component }),
  ]);
  const place = new Map(fills.map((fill, index) => [fill.bathId, index]));
  const last = fills.at(-1);
  const setup =
    last === undefined ? undefined : (await readSetupsOf(execute, [last.bathId])).get(last.bathId);
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

/** The area that went through between one point of the chart and the next of the same fill. */
export async function viewWork(
  db: Queryable,
  { tankId, query }: { tankId: number; query: Query },
): Promise<BathWork> {
  orNotFound(await readTank(db, tankId), `tank ${tankId}`);
  const { analysisId, atMs, bathId } = await queries.readPoints(db.execute, { tankId, ...query });
  const startsFill = (index: number) => index === 0 || bathId[index] !== bathId[index - 1];
  const sampledAt = atMs.map((ms) => new Date(ms));
  const uses = await readUse(
    db.execute,
    bathId.map((id, index) => {
      const until = sampledAt[index] ?? new Date(0);
      return { bathId: id, since: (startsFill(index) ? until : sampledAt[index - 1]) ?? until, until };
    }),
  );
  return { analysisId, areaM2: uses.map(({ areaM2 }) => areaM2) };
}

/** Chooses the stretch that control limits are reckoned from; the choices before it stay on record. */
export async function chooseBaseline(
  db: Db,
  { actor, tankId, input }: { actor: Actor; tankId: number; input: z.output<typeof setChartBaseline.body> },
) {
  return inTransaction(db, async (tx) => {
    const tank = orNotFound(await readTank(tx, tankId), `tank ${tankId}`);
    await queries.addBaseline(tx.execute, { tankId, ...input, setById: actor.personId });
    await writeAudit(tx.execute, actor, {
      kind: 'tank',
      id: tankId,
      number: tank.code,
      action: `chose a baseline for ${input.component}`,
      changes: [{ field: 'baseline', old: null, new: { from: input.from, to: input.to } }],
      reason: input.reason,
    });
    return toBaseline(
      orNotFound(await queries.readBaseline(tx.execute, { tankId, component: input.component }), 'baseline'),
    );
  });
}
