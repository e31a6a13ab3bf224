import {
  baseMetalNames,
  contentsNames,
  type CouponSeries,
  type CouponTrial,
  type NewCouponSeries,
  type NewCouponTrial,
  findIncompatibility,
  gradeAsEntered,
  trialFactorKeys,
  trialFactors,
} from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit, type Change } from '../../core/audit/index.ts';
import { readMaterial } from '../../catalog/materials/index.ts';
import { checkRuns } from './from-runs.ts';
import { nameOf, readLocked } from './locked.ts';
import { writePhotos } from './photos.ts';
import * as queries from './queries.ts';
import { readCouponSeries } from './views.ts';

/** Writes the first revision of a series, as a draft. */
export async function startSeries(
  db: Db,
  { actor, input }: { actor: Actor; input: NewCouponSeries },
): Promise<CouponSeries> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readRevisions(tx.execute, input.code)).length > 0)
      throw fieldError('code', `${input.code} is already in use: make a new revision of it`);
    await refuseImpossible(tx, input);
    const { trials, photos, ...facts } = input;
    return writeNew(tx, { actor, facts, revision: 1, trials: trials.map(graded), photos, known: [] });
  });
}

/** Starts the next revision as a copy of any that is no draft. */
export async function reviseSeries(
  db: Db,
  options: { actor: Actor; id: number; changeNote: string },
): Promise<CouponSeries> {
  const { actor, changeNote } = options;
  return inTransaction(db, async (tx) => {
    const { trials, photos, revisions, ...from } = await readLocked(tx, options.id);
    const draft = revisions.find(({ status }) => status === 'draft');
    if (draft !== undefined)
      throw new DomainError(
        'conflict',
        `Revision ${draft.revision} of ${from.code} is a draft already: edit that one.`,
      );
    const { code, name, contents, component, unit, referenceTemperatureC, preparation, notes } = from;
    const facts = { code, name, contents, component, unit, referenceTemperatureC, preparation, notes };
    return writeNew(tx, {
      actor,
      facts: { ...facts, materialId: from.material.id, changeNote },
      revision: Math.max(...revisions.map(({ revision }) => revision)) + 1,
      trials,
      photos: photos.map(({ file, marks }) => ({ fileId: file.id, marks })),
      known: photos.map(({ file }) => file.id),
    });
  });
}

/** Says how the colour of a coupon is known where whoever entered it did not. */
const graded = (trial: NewCouponTrial): queries.StoredTrial => ({ ...trial, grade: gradeAsEntered(trial) });

async function writeNew(
  tx: Tx,
  options: {
    actor: Actor;
    facts: queries.SeriesFacts;
    revision: number;
    trials: readonly queries.StoredTrial[];
    photos: NewCouponSeries['photos'];
    /** Files of the revision that it begins from. */
    known: readonly number[];
  },
): Promise<CouponSeries> {
  const { actor, facts, revision, photos, known } = options;
  const { id } = await queries.addSeries(tx, { ...facts, revision, authorId: actor.personId });
  await queries.writeTrials(tx, id, options.trials);
  await writePhotos(tx, { actor, seriesId: id, photos, known });
  const written = await readCouponSeries(tx.execute, id);
  await writeAudit(tx.execute, actor, {
    kind: 'coupons',
    id,
    number: nameOf(written),
    action: `drafted with ${options.trials.length} coupons`,
    reason: facts.changeNote || null,
  });
  return written;
}

async function draftOf(tx: Tx, { id, version }: { id: number; version: number }): Promise<CouponSeries> {
  const draft = await readLocked(tx, id);
  if (draft.status !== 'draft')
    throw new DomainError('immutable', `${nameOf(draft)} is ${draft.status}: make a new revision of it.`);
  assertVersion({ stored: draft, version, what: nameOf(draft) });
  return draft;
}

/** Writes in a draft. Its code stays: that is what its revisions have in common. */
export async function writeSeries(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: NewCouponSeries },
): Promise<CouponSeries> {
  const { actor, id, input } = options;
  return inTransaction(db, async (tx) => {
    const before = await draftOf(tx, options);
    if (input.code !== before.code)
      throw fieldError('code', `must stay ${before.code}, as in its other revisions`);
    await refuseImpossible(tx, input);
    const { trials, photos, ...facts } = input;
    const writerIds = [...new Set([...before.writers.map((writer) => writer.id), actor.personId])];
    await queries.changeSeries(tx, id, { ...facts, writerIds });
    await queries.writeTrials(tx, id, trials.map(graded));
    await writePhotos(tx, { actor, seriesId: id, photos, known: before.photos.map(({ file }) => file.id) });
    const after = await readCouponSeries(tx.execute, id);
    const head = ({
      trials: _,
      trialCount: _count,
      writers: _who,
      revisions: _which,
      photos,
      ...rest
    }: CouponSeries) => ({ ...rest, photos: photos.map(({ file }) => file.name) });
    await writeAudit(tx.execute, actor, {
      kind: 'coupons',
      id,
      number: nameOf(after),
      action: 'changed',
      changes: [...changesBetween(head(before), head(after)), ...trialChanges(before.trials, after.trials)],
    });
    return after;
  });
}

/** Throws a draft away. */
export async function discardSeries(
  db: Db,
  options: { actor: Actor; id: number; version: number },
): Promise<void> {
  await inTransaction(db, async (tx) => {
    const draft = await draftOf(tx, options);
    await queries.removeDraft(tx, options.id);
    await writeAudit(tx.execute, options.actor, {
      kind: 'coupons',
      id: options.id,
      number: nameOf(draft),
      action: 'discarded the draft',
      changes: trialChanges(draft.trials, []),
    });
  });
}

async function refuseImpossible(tx: Tx, input: NewCouponSeries): Promise<void> {
  const material = await readMaterial(tx.execute, input.materialId);
  if (material === null) throw fieldError('materialId', `there is no material ${input.materialId}`);
  const { contents } = input;
  const refused = findIncompatibility({ baseMetal: material.baseMetal, contents });
  if (refused !== null)
    throw fieldError(
      'materialId',
      `${baseMetalNames[material.baseMetal]} must never go into ${contentsNames[contents]}: ${refused.why}`,
    );
  await checkRuns(tx.execute, input);
  const today = await queries.readToday(tx.execute);
  input.trials.forEach(({ madeOn }, index) => {
    if (madeOn > today) throw fieldError(`trials.${index}.madeOn`, 'is in the future');
  });
}

/** For the history: a row for each coupon that differs, by its place in the list. */
function trialChanges(before: readonly CouponTrial[], after: readonly CouponTrial[]): Change[] {
  return Array.from({ length: Math.max(before.length, after.length) }).flatMap((_, index): Change[] => {
    const [old, now] = [before[index] ?? null, after[index] ?? null];
    return JSON.stringify(old) === JSON.stringify(now)
      ? []
      : [{ field: `coupon ${index + 1}`, old: inWords(old), new: inWords(now) }];
  });
}
function inWords(trial: CouponTrial | null): string | null {
  if (trial === null) return null;
  const { mark, outcome, protects, grade, lab, madeOn, madeBy, run } = trial;
  const factors = trialFactorKeys.flatMap((factor) => {
    const value = trial[factor];
    const { unit } = trialFactors[factor];
    return value === null ? [] : [factor === 'pH' ? `pH ${value}` : `${value} ${unit}`.trim()];
  });
  return [
    ...[mark, ...factors, outcome ?? 'not looked at yet'],
    ...(protects === null ? [] : [protects ? 'protects' : 'does not protect']),
    ...(lab === null ? [] : [`L* ${lab.L} a* ${lab.a} b* ${lab.b}`]),
    ...[grade ?? '', madeOn, madeBy, run?.number ?? ''],
  ]
    .filter((part) => part !== '')
    .join(', ');
}
