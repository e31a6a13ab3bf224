import { chamberFaults } from '@huelot/calc';
import type {
  ExposureFigure,
  ExposureInterruption,
  ExposureReading,
  NewExposureInterruption,
  NewExposureReading,
} from '@huelot/contracts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { type Db, inTransaction } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import * as queries from './chamber-queries.ts';
import { assertPast } from './days.ts';
import { aboutTest } from './plan.ts';
import { lockTest } from './queries.ts';
import { openTest, running } from './run.ts';
import { readStored } from './view.ts';

const figures = ['temperatureC', 'pH', 'collectionMlPerHour', 'saltGPerL'] as const;

/** Keeps a reading of the chamber with the figures of it that lie outside what the test asks. */
export function keepReading(
  db: Db,
  {
    actor,
    testId,
    input,
    now = new Date(),
  }: { actor: Actor; testId: number; input: NewExposureReading; now?: Date },
): Promise<ExposureReading> {
  return inTransaction(db, async (tx) => {
    const test = await openTest(tx, testId);
    assertInside({ at: input.readAt, startedAt: test.startedAt, now, field: 'readAt' });
    const outside = outsideOf(input, test.limits);
    const { id } = await queries.addReading(tx, {
      ...{ input, testId, outside, correctsId: null, reason: '' },
      ...{ readById: actor.personId, enteredAt: now },
    });
    await writeAudit(tx.execute, actor, {
      ...aboutTest(test),
      action: readWords('read the chamber', outside),
    });
    return readingOf(await queries.readReading(tx.execute, id), id);
  });
}

/** Keeps a reading in the place of one that was entered wrongly; both are shown, and what was outside stays marked. */
export function correctReading(
  db: Db,
  {
    actor,
    id,
    input,
    now = new Date(),
  }: {
    actor: Actor;
    id: number;
    input: Omit<NewExposureReading, 'readAt'> & { reason: string };
    now?: Date;
  },
): Promise<ExposureReading> {
  return inTransaction(db, async (tx) => {
    await queries.lockReading(tx.execute, id);
    const old = orNotFound(await queries.readReading(tx.execute, id), `reading ${id} of a chamber`);
    if (old.isCorrected) throw new DomainError('conflict', 'That reading was corrected already.');
    const test = await openTest(tx, old.testId);
    const { reason, ...read } = input;
    const outside = outsideOf(read, test.limits);
    const added = await queries.addReading(tx, {
      ...{ input: { ...read, readAt: old.readAt }, testId: test.id, outside, correctsId: id, reason },
      ...{ readById: actor.personId, enteredAt: now },
    });
    await writeAudit(tx.execute, actor, {
      ...aboutTest(test),
      action: readWords('corrected a reading of the chamber', outside),
      changes: changesBetween(figuresOf(old), figuresOf(read)),
      reason,
    });
    return readingOf(await queries.readReading(tx.execute, added.id), added.id);
  });
}

const figuresOf = ({
  temperatureC,
  pH,
  collectionMlPerHour,
  saltGPerL,
}: Pick<NewExposureReading, ExposureFigure>) => ({
  ...{ temperatureC, pH, collectionMlPerHour, saltGPerL },
});
const readingOf = (row: ExposureReading | null, id: number) => orNotFound(row, `reading ${id} of a chamber`);
const readWords = (action: string, outside: readonly ExposureFigure[]) =>
  outside.length === 0
    ? action
    : `${action}: outside its range in ${outside.map((figure) => figureWords[figure]).join(', ')}`;
const figureWords: Record<ExposureFigure, string> = {
  ...{ temperatureC: 'temperature', pH: 'pH', collectionMlPerHour: 'collection', saltGPerL: 'salt' },
};

function outsideOf(
  read: Omit<NewExposureReading, 'readAt' | 'note'>,
  limits: Parameters<typeof chamberFaults>[0]['limits'],
): ExposureFigure[] {
  if (figures.every((figure) => read[figure] === null))
    throw fieldError('temperatureC', 'or another figure must be filled in');
  return chamberFaults({ reading: read, limits });
}

function assertInside(options: { at: string; startedAt: string; now: Date; field: string }): void {
  assertPast(options);
  const { at, startedAt, field } = options;
  if (new Date(at) < new Date(startedAt))
    throw fieldError(field, `must not be before ${startedAt}, when the test started`);
}

/** Keeps a time in which the specimens were not exposed. */
export function interrupt(
  db: Db,
  {
    actor,
    testId,
    input,
    now = new Date(),
  }: { actor: Actor; testId: number; input: NewExposureInterruption; now?: Date },
): Promise<ExposureInterruption> {
  return inTransaction(db, async (tx) => {
    await lockTest(tx.execute, { id: testId, how: 'update' });
    const test = running(await readStored(tx.execute, testId));
    const { fromAt, toAt } = input;
    assertInside({ at: fromAt, startedAt: test.startedAt, now, field: 'fromAt' });
    if (toAt !== null) assertSpan({ fromAt, toAt, now });
    const others = await queries.readInterruptionsOfTests(tx.execute, [testId]);
    const clash = others.find(
      (other) =>
        new Date(other.fromAt) < new Date(toAt ?? now) && new Date(fromAt) < new Date(other.toAt ?? now),
    );
    if (clash !== undefined || (toAt === null && others.some((other) => other.toAt === null)))
      throw new DomainError('conflict', 'Another interruption covers some of that time already.');
    const { id } = await queries.addInterruption(tx, {
      ...{ input, personId: actor.personId, testId, enteredAt: now },
    });
    await writeAudit(tx.execute, actor, {
      ...aboutTest(test),
      action: 'interrupted',
      changes: changesBetween({ fromAt: null, toAt: null }, { fromAt, toAt }),
      reason: input.reason,
    });
    return interruptionOf(await queries.readInterruption(tx.execute, id), id);
  });
}

/** Says when an interruption ended; once. */
export function resume(
  db: Db,
  { actor, id, toAt, now = new Date() }: { actor: Actor; id: number; toAt: string; now?: Date },
): Promise<ExposureInterruption> {
  return inTransaction(db, async (tx) => {
    const found = interruptionOf(await queries.readInterruption(tx.execute, id), id);
    await lockTest(tx.execute, { id: found.testId, how: 'update' });
    const test = running(await readStored(tx.execute, found.testId));
    const row = interruptionOf(await queries.readInterruption(tx.execute, id), id);
    if (row.toAt !== null) throw new DomainError('conflict', `That interruption ended at ${row.toAt}.`);
    assertSpan({ fromAt: row.fromAt, toAt, now });
    await queries.endInterruption(tx, {
      ...{ id, toAt: new Date(toAt), endedById: actor.personId, endedAt: now },
    });
    await writeAudit(tx.execute, actor, {
      ...aboutTest(test),
      action: 'went on with',
      changes: changesBetween({ toAt: null }, { toAt }),
    });
    return interruptionOf(await queries.readInterruption(tx.execute, id), id);
  });
}

const interruptionOf = <Row>(row: Row | null, id: number): Row => orNotFound(row, `interruption ${id}`);
function assertSpan({ fromAt, toAt, now }: { fromAt: string; toAt: string; now: Date }): void {
  assertPast({ at: toAt, now, field: 'toAt' });
  if (new Date(toAt) <= new Date(fromAt)) throw fieldError('toAt', `must be after ${fromAt}`);
}
