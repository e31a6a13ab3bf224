import { gradeDecides, type citeCouponSeries, type RecipeEvidence } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { readToday, readTrials } from '../coupons/index.ts';
import { alloyInWords, speaksFor } from './judge.ts';
import * as queries from './queries.ts';
import { readRecipeEvidence } from './view.ts';

type Input = z.output<typeof citeCouponSeries.body>;

/** The revision with its recipe locked, where evidence may still be added: it is a draft, or in force. */
export async function openRevision(tx: Tx, id: number): Promise<queries.RevisionRow> {
  await queries.lockRevision(tx.execute, id);
  const [found] = await queries.readRevisions(tx.execute, [id]);
  const revision = orNotFound(found, `recipe revision ${id}`);
  if (!['draft', 'approved'].includes(revision.status))
    throw new DomainError(
      'immutable',
      `${revision.number} revision ${revision.revision} is ${revision.status}: cite evidence behind the revision in force.`,
    );
  return revision;
}

/** Two people who compared a colour with a standard; both must work here. */
export async function checkComparers(
  tx: Tx,
  { comparerIds, path }: { comparerIds: readonly number[]; path: string },
): Promise<{ firstComparerId: number | null; secondComparerId: number | null }> {
  const people = await queries.readActive(tx.execute, comparerIds);
  const unknown = comparerIds.findIndex((id) => !people.some((person) => person.id === id));
  if (unknown >= 0) throw fieldError(`${path}.${unknown}`, 'is nobody who works here');
  const [firstComparerId = null, secondComparerId = null] = comparerIds;
  return { firstComparerId, secondComparerId };
}

/** Refuses an expiry that is over already. */
export async function checkExpiry(tx: Tx, expiresOn: string | null): Promise<Date | null> {
  if (expiresOn === null) return null;
  if (expiresOn < (await readToday(tx.execute))) throw fieldError('expiresOn', 'is in the past');
  return new Date(`${expiresOn}T00:00:00Z`);
}

/** Refuses an alloy that the recipe is not for. */
export function checkMetal(
  { number, baseMetals }: queries.RevisionRow,
  { alloy, path }: { alloy: { name: string; condition: string; baseMetal: string }; path: string },
): void {
  if (!baseMetals.includes(alloy.baseMetal))
    throw fieldError(path, `is of ${alloyInWords(alloy)}; ${number} is for ${baseMetals.join(', ')}`);
}

/**
 * Cites an approved coupon series behind a recipe revision. The alloy and condition are those it was approved with. What it
 * proves is judged whenever it is asked: by its coupons near the steps as they stand, until it expires.
 */
export function citeSeries(
  db: Db | Tx,
  { actor, revisionId, input }: { actor: Actor; revisionId: number; input: Input },
): Promise<RecipeEvidence> {
  return inTransaction(db, async (tx) => {
    const revision = await openRevision(tx, revisionId);
    const series = await queries.readSeriesToCite(tx.execute, input.seriesId);
    if (series === null) throw fieldError('seriesId', `there is no coupon series ${input.seriesId}`);
    const name = `${series.code} rev ${series.revision}`;
    if (series.status !== 'approved')
      throw fieldError('seriesId', `${name} is ${series.status}: only an approved series is evidence`);
    checkMetal(revision, { alloy: series.material, path: 'seriesId' });
    await refuseCited(tx, { revisionId, seriesId: series.id, name });
    const trials = (await readTrials(tx.execute, [series.id])).get(series.id) ?? [];
    const counting = trials.filter((trial) => speaksFor(input, trial));
    if (gradeDecides(input.grade) && counting.length === 0)
      throw fieldError('grade', `cannot be ${input.grade}: no coupon of ${name} is of that grade`);
    const expiresOn = await checkExpiry(tx, input.expiresOn);
    const pieces = gradeDecides(input.grade) ? counting.length : trials.length;
    const { condition, baseMetal } = series.material;
    await queries.addEvidence(tx, {
      ...{ revisionId, kind: 'coupons', grade: input.grade, materialId: series.materialId },
      ...{ alloy: series.material.name, condition, baseMetal },
      ...{ seriesId: series.id, lotId: null, lotNumber: null, pieces },
      ...(await checkComparers(tx, { comparerIds: input.comparerIds, path: 'comparerIds' })),
      ...{
        instrument: '',
        instrumentId: null,
        instrumentOverdue: false,
        labL: null,
        labA: null,
        labB: null,
        note: input.note,
        expiresOn,
      },
      ...{ citedInDraft: revision.status === 'draft', citedById: actor.personId },
    });
    await writeAudit(tx.execute, actor, {
      ...aboutRecipe(revision),
      action: `cited ${name} behind revision ${revision.revision}: ${alloyInWords(series.material)}, ${pieces} coupons`,
    });
    return readRecipeEvidence(tx.execute, revisionId);
  });
}

export const aboutRecipe = ({ recipeId, number }: queries.RevisionRow) =>
  ({ kind: 'recipe', id: recipeId, number }) as const;

async function refuseCited(
  tx: Tx,
  { revisionId, seriesId, name }: { revisionId: number; seriesId: number; name: string },
): Promise<void> {
  const rows = await queries.readEvidence(tx.execute, [revisionId]);
  if (rows.some(({ series, withdrawn }) => series?.id === seriesId && withdrawn === null))
    throw new DomainError('already-exists', `${name} is cited already.`, {
      issues: [{ path: 'seriesId', message: 'is cited already' }],
    });
}

/** Takes evidence out of a draft, as if it had never been cited; the history keeps it. */
export function uncite(db: Db, { actor, id }: { actor: Actor; id: number }): Promise<void> {
  return inTransaction(db, async (tx) => {
    const { row, revision } = await locked(tx, id);
    if (revision.status !== 'draft')
      throw new DomainError(
        'immutable',
        `${revision.number} revision ${revision.revision} is ${revision.status}: withdraw the evidence with a reason instead.`,
      );
    await queries.removeEvidence(tx, id);
    await writeAudit(tx.execute, actor, {
      ...aboutRecipe(revision),
      action: `took ${row.series?.code ?? row.lot?.number ?? row.elsewhere?.label ?? 'evidence'} out of draft ${revision.revision}`,
    });
  });
}

/** Withdraws evidence of an approved revision: what rested on it is asked for a first article from now on. */
export function withdraw(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<RecipeEvidence> {
  return inTransaction(db, async (tx) => {
    const { row, revision } = await locked(tx, id);
    if (revision.status === 'draft')
      throw new DomainError('conflict', 'The revision is a draft: take the evidence out of it.');
    if (row.withdrawn !== null)
      throw new DomainError('conflict', `It was withdrawn already by ${row.withdrawn.by}.`);
    await queries.withdrawEvidence(tx, id, { personId: actor.personId, reason });
    await writeAudit(tx.execute, actor, {
      ...aboutRecipe(revision),
      action: `withdrew ${row.series?.code ?? row.lot?.number ?? 'evidence'} behind revision ${revision.revision}`,
      reason,
    });
    return readRecipeEvidence(tx.execute, revision.id);
  });
}

async function locked(tx: Tx, id: number) {
  const { revisionId } = orNotFound(await queries.readOne(tx.execute, id), `evidence ${id}`);
  await queries.lockRevision(tx.execute, revisionId);
  const row = orNotFound(await queries.readOne(tx.execute, id), `evidence ${id}`);
  const [revision] = await queries.readRevisions(tx.execute, [revisionId]);
  return { row, revision: orNotFound(revision, `recipe revision ${revisionId}`) };
}
