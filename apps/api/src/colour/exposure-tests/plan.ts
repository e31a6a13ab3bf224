import {
  exposureKinds,
  type ExposureTest,
  type NewExposureSpecimen,
  type NewExposureTest,
} from '@huelot/contracts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { type Db, inTransaction, type Tx } from '../../db/client.ts';
import { nextNumber } from '../../db/numbers.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion, DomainError, fieldError } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';
import * as stored from './specimen-queries.ts';
import { readExposureTest, readStored } from './view.ts';

export const aboutTest = ({ id, number }: Pick<ExposureTest, 'id' | 'number'>) =>
  ({ kind: 'exposure-test', id, number }) as const;

/** Plans a test with its specimens. */
export function planTest(
  db: Db,
  { actor, input, now = new Date() }: { actor: Actor; input: NewExposureTest; now?: Date },
): Promise<ExposureTest> {
  return inTransaction(db, async (tx) => {
    await checkPlan(tx, input);
    const { specimens, ...facts } = input;
    const number = await nextNumber(tx.execute, 'exposure-test');
    const { id } = await queries.addTest(tx, { number, createdById: actor.personId, createdAt: now, facts });
    await stored.replaceSpecimens(tx, { testId: id, specimens: withoutIdleWords(specimens) });
    await writeAudit(tx.execute, actor, {
      ...aboutTest({ id, number }),
      action: `planned with ${specimens.length} specimens`,
    });
    return readExposureTest(tx.execute, { id, now });
  });
}

/** Changes a plan that has not started. */
export function changePlan(
  db: Db,
  { actor, id, version, input }: { actor: Actor; id: number; version: number; input: NewExposureTest },
): Promise<ExposureTest> {
  return inTransaction(db, async (tx) => {
    const before = await openPlan(tx, id);
    assertVersion({ stored: await readExposureTest(tx.execute, { id }), version, what: before.number });
    await checkPlan(tx, input);
    const { specimens, ...facts } = input;
    await queries.changeTest(tx, { id, facts });
    await stored.replaceSpecimens(tx, { testId: id, specimens: withoutIdleWords(specimens) });
    const after = await readStored(tx.execute, id);
    await writeAudit(tx.execute, actor, {
      ...aboutTest(after),
      action: `changed the plan, now of ${specimens.length} specimens`,
      changes: changesBetween(before, after),
    });
    return readExposureTest(tx.execute, { id });
  });
}

/** Withdraws a test that has not started; one that runs is ended, with a verdict. */
export function withdrawTest(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<ExposureTest> {
  return inTransaction(db, async (tx) => {
    const test = await openPlan(tx, id);
    await queries.moveTest(tx, { id, state: 'withdrawn', withdrawReason: reason });
    await writeAudit(tx.execute, actor, { ...aboutTest(test), action: 'withdrew', reason });
    return readExposureTest(tx.execute, { id });
  });
}

/** The plan of a test, with nobody else at it; refused once it has started. */
export async function openPlan(tx: Tx, id: number) {
  await queries.lockTest(tx.execute, { id, how: 'update' });
  const test = await readStored(tx.execute, id);
  if (test.state !== 'planned')
    throw new DomainError('conflict', `${test.number} is ${test.state}: its plan stands.`);
  return test;
}

/** Bare metal has no film, and only what is sealed or oiled has a seal or an oil. */
const withoutIdleWords = (specimens: readonly NewExposureSpecimen[]): NewExposureSpecimen[] =>
  specimens.map((specimen) => ({
    ...specimen,
    film: specimen.finish === 'bare' ? '' : specimen.film,
    protective: hasProtective(specimen) ? specimen.protective.trim() : '',
  }));
const hasProtective = ({ finish }: NewExposureSpecimen) =>
  finish === 'coloured-and-sealed' || finish === 'coloured-and-oiled';

async function checkPlan(tx: Tx, input: NewExposureTest): Promise<void> {
  checkHours(input);
  const { specimens } = input;
  const ids = (pick: (specimen: NewExposureSpecimen) => number | null) =>
    specimens.map(pick).filter((id) => id !== null);
  const there = await queries.readNamed(tx.execute, {
    responsibleId: input.responsibleId,
    materialIds: ids(({ materialId }) => materialId),
    revisionIds: ids(({ recipeRevisionId }) => recipeRevisionId),
    seriesIds: ids(({ couponSeriesId }) => couponSeriesId),
  });
  if (!there.responsible) throw fieldError('responsibleId', 'must be somebody who may make tests');
  const marks = specimens.map(({ mark }) => mark.trim().toLowerCase());
  for (const [index, specimen] of specimens.entries()) {
    const fault = (field: keyof NewExposureSpecimen, message: string) =>
      fieldError(`specimens.${index}.${field}`, message);
    if (marks.indexOf(marks[index] ?? '') !== index)
      throw fault('mark', `${specimen.mark} is the mark of another specimen of this test`);
    if (!there.materials.includes(specimen.materialId))
      throw fault('materialId', 'must be a material of the shop');
    const { recipeRevisionId, couponSeriesId } = specimen;
    if (recipeRevisionId !== null && !there.revisions.includes(recipeRevisionId))
      throw fault('recipeRevisionId', 'must be a revision of a recipe of the shop');
    if (couponSeriesId !== null && !there.series.includes(couponSeriesId))
      throw fault('couponSeriesId', 'must be a coupon series of the shop');
    if (hasProtective(specimen) && specimen.protective.trim() === '')
      throw fault('protective', 'must name the oil or the seal: the test speaks of that one alone');
  }
}

/** Hours whose decimal point slipped: longer than anybody tests so, or over before the first look. */
function checkHours({ kind, plannedHours, lookEveryDays }: NewExposureTest): void {
  const { name, mostHours } = exposureKinds[kind];
  if (plannedHours > mostHours)
    throw fieldError(
      'plannedHours',
      `must be at most ${mostHours} h for ${name}: is the decimal point right?`,
    );
  if (plannedHours < 24 * lookEveryDays)
    throw fieldError(
      'plannedHours',
      `must be at least ${24 * lookEveryDays} h: the test would be over before anybody looks`,
    );
}
