import { CALC_VERSION } from '@huelot/calc';
import type { ExposureTest } from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import { type Db, inTransaction, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion, DomainError, fieldError } from '../../kernel/refusal.ts';
import { dayOf } from './days.ts';
import { aboutTest, openPlan } from './plan.ts';
import * as queries from './queries.ts';
import type { StoredTest } from './queries.ts';
import { readExposureTest, readStored } from './view.ts';

/** Takes the moment at which the specimens went in. From then on the plan and the specimens stand. */
export function startTest(
  db: Db,
  {
    actor,
    id,
    version,
    startedAt,
    now = new Date(),
  }: { actor: Actor; id: number; version: number; startedAt: string; now?: Date },
): Promise<ExposureTest> {
  return inTransaction(db, async (tx) => {
    const test = await openPlan(tx, id);
    assertVersion({ stored: await readExposureTest(tx.execute, { id, now }), version, what: test.number });
    const { day, timeZone } = await dayOf(tx.execute, {
      ...{ at: startedAt, now, field: 'startedAt', timeZone: null },
    });
    await queries.moveTest(tx, {
      ...{ id, state: 'running', startedById: actor.personId },
      ...{ startedAt: new Date(startedAt), startDay: new Date(`${day}T00:00:00Z`), timeZone },
    });
    await writeAudit(tx.execute, actor, { ...aboutTest(test), action: 'started' });
    return readExposureTest(tx.execute, { id, now });
  });
}

/** Ends a test with a verdict in words. What its observations say then is its result, for ever. */
export function endTest(
  db: Db,
  {
    actor,
    id,
    endedAt,
    verdict,
    now = new Date(),
  }: { actor: Actor; id: number; endedAt: string; verdict: string; now?: Date },
): Promise<ExposureTest> {
  return inTransaction(db, async (tx) => {
    await queries.lockTest(tx.execute, { id, how: 'update' });
    const test = running(await readStored(tx.execute, id));
    const { day: endDay } = await dayOf(tx.execute, {
      ...{ at: endedAt, now, field: 'endedAt', timeZone: test.timeZone },
    });
    const { specimens, result, ...seen } = await readExposureTest(tx.execute, { id, now: new Date(endedAt) });
    checkNothingAfter({ ...seen, specimens }, endedAt);
    // With the end, a look that could still be entered is missed.
    const missedLooks = specimens
      .flatMap(({ missedDays, dueDays }) => [...missedDays, ...dueDays])
      .filter((day) => day <= endDay).length;
    await queries.moveTest(tx, {
      ...{ id, state: 'ended', endedById: actor.personId, verdict, calcVersion: CALC_VERSION },
      ...{ endedAt: new Date(endedAt), endDay: new Date(`${endDay}T00:00:00Z`) },
      result: { ...result, missedLooks },
    });
    await writeAudit(tx.execute, actor, { ...aboutTest(test), action: 'ended', reason: verdict });
    return readExposureTest(tx.execute, { id, now });
  });
}

/** Refused where a test is not running. */
export function running(test: StoredTest): StoredTest & { startedAt: string } {
  const { startedAt } = test;
  if (test.state !== 'running' || startedAt === null)
    throw new DomainError(
      'conflict',
      test.state === 'planned' ? `${test.number} has not started.` : `${test.number} is ${test.state}.`,
    );
  return { ...test, startedAt };
}

/** A running test for something that is seen of it; nobody ends it meanwhile. */
export async function openTest(tx: Tx, id: number) {
  await queries.lockTest(tx.execute, { id, how: 'share' });
  return running(await readStored(tx.execute, id));
}

function checkNothingAfter(
  { specimens, readings, interruptions }: Pick<ExposureTest, 'specimens' | 'readings' | 'interruptions'>,
  endedAt: string,
): void {
  const end = new Date(endedAt).toISOString();
  if (interruptions.some(({ toAt }) => toAt === null))
    throw new DomainError('conflict', 'The test is interrupted: say first when the interruption ended.');
  const moments = [
    ...specimens.flatMap(({ observations }) => observations.map(({ seenAt }) => seenAt)),
    ...readings.map(({ readAt }) => readAt),
    ...interruptions.map(({ toAt }) => toAt ?? ''),
  ];
  const last = moments.toSorted().at(-1) ?? '';
  if (last > end) throw fieldError('endedAt', `must not be before ${last}, the last thing that was seen`);
}
