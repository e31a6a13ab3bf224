import type { Calibration, NewCalibration } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, DomainError, fieldError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { fitted } from './law.ts';
import * as queries from './queries.ts';
import { readCalibration } from './views.ts';

export const nameOf = ({ code, revision }: { code: string; revision: number }) => `${code} rev ${revision}`;

/** Fits the first revision of a calibration, and keeps it as a draft. */
export function startCalibration(
  db: Db,
  { actor, input }: { actor: Actor; input: NewCalibration },
): Promise<Calibration> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readRevisions(tx.execute, input.code)).length > 0)
      throw fieldError('code', `${input.code} is already in use: make a new revision of it`);
    return writeNew(tx, { actor, input, revision: 1 });
  });
}

/** Starts the next revision as a copy of any that is no draft, fitted again. */
export function reviseCalibration(
  db: Db,
  { actor, id, changeNote }: { actor: Actor; id: number; changeNote: string },
): Promise<Calibration> {
  return inTransaction(db, async (tx) => {
    const from = await readLocked(tx, id);
    const draft = from.revisions.find(({ status }) => status === 'draft');
    if (draft !== undefined)
      throw new DomainError(
        'conflict',
        `Revision ${draft.revision} of ${from.code} is a draft already: edit that one.`,
      );
    const revision = Math.max(...from.revisions.map((one) => one.revision)) + 1;
    return writeNew(tx, { actor, input: { ...enteredOf(from), changeNote }, revision });
  });
}

/** What somebody entered of a calibration. */
const enteredOf = (from: Calibration): NewCalibration => {
  const { code, name, film, substrate, angleDeg, voidFraction, surface, notes, changeNote } = from;
  const { seriesIds, counted } = from;
  const rejected = from.coupons.flatMap(({ seriesId, position, rejected: reason }) =>
    reason === null ? [] : [{ seriesId, position, reason }],
  );
  const facts = { code, name, film, substrate, angleDeg, voidFraction, surface, notes, changeNote };
  return { ...facts, seriesIds, rejected, counted };
};

async function writeNew(
  tx: Tx,
  { actor, input, revision }: { actor: Actor; input: NewCalibration; revision: number },
): Promise<Calibration> {
  const written = await fitted(tx, input);
  const { id } = await queries.addCalibration(tx, { revision, authorId: actor.personId, written });
  const draft = await readCalibration(tx.execute, id);
  await writeAudit(tx.execute, actor, {
    ...{ kind: 'calibration', id, number: nameOf(draft) },
    action: `drafted from ${draft.couponCount} coupons`,
    reason: draft.changeNote || null,
  });
  return draft;
}

/** A revision with its calibration locked, so that nobody approves, saves or drafts beside it. */
export async function readLocked(tx: Tx, id: number): Promise<Calibration> {
  await queries.lockCode(tx.execute, id);
  return readCalibration(tx.execute, id);
}

async function readDraft(tx: Tx, { id, version }: { id: number; version: number }): Promise<Calibration> {
  const draft = await readLocked(tx, id);
  if (draft.status !== 'draft')
    throw new DomainError('immutable', `${nameOf(draft)} is ${draft.status}: make a new revision of it.`);
  assertVersion({ stored: draft, version, what: nameOf(draft) });
  return draft;
}

/** Writes in a draft, and fits it again. Its code stays: that is what its revisions have in common. */
export function writeCalibration(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: NewCalibration },
): Promise<Calibration> {
  const { actor, id, input } = options;
  return inTransaction(db, async (tx) => {
    const before = await readDraft(tx, options);
    if (input.code !== before.code)
      throw fieldError('code', `must stay ${before.code}, as in its other revisions`);
    const written = await fitted(tx, input);
    const writerIds = [...new Set([...before.writers.map((writer) => writer.id), actor.personId])];
    await queries.changeCalibration(tx, id, { written, writerIds });
    const after = await readCalibration(tx.execute, id);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'calibration', id, number: nameOf(after), action: 'changed' },
      changes: changesBetween(forHistory(before), forHistory(after)),
    });
    return after;
  });
}

const forHistory = (one: Calibration) => {
  const { name, film, substrate, angleDeg, voidFraction, surface, notes, changeNote } = one;
  const { offsetNm, slopeNmPerV, curvatureNmPerV2 } = one.fit.growth;
  return {
    ...{ name, film, substrate, angleDeg, voidFraction, surface, notes, changeNote },
    series: [...new Set(one.coupons.map(({ series }) => series))].join(', '),
    rejected: one.coupons
      .flatMap(({ series, position, rejected }) =>
        rejected === null ? [] : [`${series} no. ${position}: ${rejected}`],
      )
      .join('; '),
    ordersCounted:
      one.counted === null
        ? null
        : `film of ${one.counted.thicknessNm} nm at the highest coupon: ${one.counted.reason}`,
    ...{ verdict: one.verdict, offsetNm, slopeNmPerV, curvatureNmPerV2 },
  };
};

/** Throws a draft away. */
export async function discardCalibration(
  db: Db,
  options: { actor: Actor; id: number; version: number },
): Promise<void> {
  await inTransaction(db, async (tx) => {
    const draft = await readDraft(tx, options);
    await queries.removeDraft(tx, options.id);
    await writeAudit(tx.execute, options.actor, {
      ...{ kind: 'calibration', id: options.id, number: nameOf(draft) },
      action: 'discarded the draft',
      changes: changesBetween(forHistory(draft), {}),
    });
  });
}
