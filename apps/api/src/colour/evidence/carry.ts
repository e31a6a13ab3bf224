import type { RecipeEvidence } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db } from '../../db/client.ts';
import { DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { aboutRecipe, openRevision } from './cite.ts';
import type { ColourStep } from './queries.ts';
import * as queries from './queries.ts';
import { readRecipeEvidence } from './view.ts';

/**
 * Cites in a draft what the revision before rests on. Coupons are judged by the steps of the draft, so they come along
 * whatever changed; a lot proves only the steps it was run with, so it comes along where the colour steps are the same.
 */
export function carry(
  db: Db,
  { actor, revisionId }: { actor: Actor; revisionId: number },
): Promise<RecipeEvidence> {
  return inTransaction(db, async (tx) => {
    const revision = await openRevision(tx, revisionId);
    if (revision.status !== 'draft')
      throw new DomainError('immutable', 'Evidence is carried over into a draft: this revision is approved.');
    const before = await queries.readRevisionBefore(tx.execute, revision);
    if (before === null)
      throw new DomainError('conflict', `${revision.number} has no revision before this one.`);
    const rows = await queries.readEvidence(tx.execute, [before.id, revisionId]);
    const steps = await queries.readColourSteps(tx.execute, [before.id, revisionId]);
    const sameSteps = isSame(
      steps.filter((step) => step.revisionId === before.id),
      steps.filter((step) => step.revisionId === revisionId),
    );
    const mine = rows.filter((row) => row.revisionId === revisionId);
    const carried = rows.filter(
      (row) =>
        row.revisionId === before.id &&
        row.withdrawn === null &&
        (row.kind === 'coupons' ? row.series?.status !== 'retired' : row.kind === 'elsewhere' || sameSteps) &&
        !mine.some(({ source }) => source === row.source),
    );
    if (carried.length === 0)
      throw new DomainError(
        'conflict',
        sameSteps
          ? `Revision ${before.revision} has no evidence that is not cited here.`
          : `Revision ${before.revision} has no coupons that are not cited here, and its lots were run with other colour steps.`,
      );
    for (const row of carried) {
      const { kind, grade, materialId, pieces, note, alloy, firstComparerId, secondComparerId } = row;
      const { instrument, instrumentId, instrumentOverdue } = row;
      await queries.addEvidence(tx, {
        ...{
          revisionId,
          kind,
          grade,
          materialId,
          pieces,
          instrument,
          instrumentId,
          instrumentOverdue,
          note,
          firstComparerId,
          secondComparerId,
        },
        ...{ alloy: alloy.name, condition: alloy.condition, baseMetal: alloy.baseMetal },
        ...{
          seriesId: row.series?.id ?? null,
          lotId: row.lot?.id ?? null,
          lotNumber: row.lot?.number ?? null,
        },
        ...{ labL: row.lab?.L ?? null, labA: row.lab?.a ?? null, labB: row.lab?.b ?? null },
        expiresOn: row.expiresOn === null ? null : new Date(`${row.expiresOn}T00:00:00Z`),
        elsewhere: row.elsewhere,
        ...{ citedInDraft: true, citedById: actor.personId },
      });
    }
    await writeAudit(tx.execute, actor, {
      ...aboutRecipe(revision),
      action: `carried ${carried.length} pieces of evidence from revision ${before.revision} to draft ${revision.revision}`,
    });
    return readRecipeEvidence(tx.execute, revisionId);
  });
}

const isSame = (before: readonly ColourStep[], after: readonly ColourStep[]) => {
  const bare = (steps: readonly ColourStep[]) =>
    JSON.stringify(
      steps.map(({ kind, contents, durationS, settings, electrical }) => ({
        ...{ kind, contents, durationS, settings, electrical },
      })),
    );
  return bare(before) === bare(after);
};
