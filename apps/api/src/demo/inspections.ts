import type { Shop } from './job.ts';
import { inspectLot, readLotInspection, setInspectionPlan } from '../quality/inspection-plans/index.ts';
import type { Timeline } from './backdate.ts';
import type { Actors } from './people.ts';
import type { Db } from '../db/client.ts';
import type { DemoPart } from './parts.ts';

/** The part with an inspection plan, by its place in the list: one that comes often. */
const planned = 9;
/** Lots of the part that comes often whose sample was rejected: two of five, which tightens the next. */
const rejected: readonly number[] = [2, 4];

/** Writes how lots of a part are inspected. */
export async function seedInspectionPlans(
  db: Db,
  {
    actors,
    story,
    since,
    parts,
  }: { actors: Actors; story: Timeline; since: number; parts: readonly DemoPart[] },
): Promise<void> {
  const part = parts[planned];
  if (part === undefined) throw new Error(`the demo has no part ${planned}`);
  await story.at(since, () =>
    setInspectionPlan(db, {
      actor: actors.quentin,
      partId: part.id,
      input: {
        ...{ follows: null, note: 'as agreed with the customer at the first article' },
        characteristics: [
          {
            ...{ name: 'Look of the film', kind: 'visual', instrument: '', sampling: null },
            method: 'by eye at arm’s length under the lamp of the bench',
            acceptance: 'even, no bare spot, contact marks only where the drawing allows them',
          },
          {
            ...{ name: 'Rub test', kind: 'adhesion', instrument: 'white cloth' },
            ...{ method: 'ten double rubs with a dry cloth', acceptance: 'no colour on the cloth' },
            sampling: { level: 'S-3', aql: '4.0', limitNumber: null },
          },
        ],
      },
    }),
  );
}

/** Inspects a lot that came off its last step as its plan asks; returns how many pieces do not conform. */
export async function inspect(
  { db, actors, story }: Shop,
  { lotId, when }: { lotId: number; when: number },
): Promise<number> {
  const { characteristics, lotSize } = await readLotInspection(db, lotId);
  if (characteristics.length === 0) return 0;
  const before = await db.prisma.inspection.count({
    where: { name: 'Rub test', isScreening: false, partNumber: await partNumberOf(db, lotId) },
  });
  let nonconforming = 0;
  let minutes = 0;
  const record = (result: {
    characteristicId: number;
    inspected: number;
    found: number;
    isScreening: boolean;
  }) =>
    story.at(when + (minutes += 10) * 60_000, () =>
      inspectLot(db, {
        actor: actors.quentin,
        lotId,
        input: { ...result, instrumentId: null, notes: '' },
      }),
    );
  for (const { id, asked } of characteristics) {
    const isBad = asked !== null && rejected.includes(before + 1);
    await record({
      ...{ characteristicId: id, inspected: asked?.inspect ?? lotSize },
      ...{ found: isBad ? asked.re : 0, isScreening: false },
    });
    if (!isBad) continue;
    nonconforming = asked.re;
    await record({ characteristicId: id, inspected: lotSize, found: nonconforming, isScreening: true });
  }
  return nonconforming;
}

const partNumberOf = async (db: Db, lotId: number): Promise<string> =>
  (
    await db.prisma.lot.findUniqueOrThrow({
      where: { id: lotId },
      select: { part: { select: { number: true } } },
    })
  ).part.number;
