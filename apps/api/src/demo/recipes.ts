import { citeCouponSeries, createRecipe, saveDraft, type NewStep } from '@huelot/contracts';
import type { Db } from '../db/client.ts';
import { approveRecipe, startDraft, writeDraft, addRecipe } from '../catalog/recipes/index.ts';
import { checkEvidence, citeSeries } from '../colour/evidence/index.ts';
import type { Timeline } from './backdate.ts';
import type { Actors } from './people.ts';
import { book, type RecipeKey } from './recipe-book.ts';
import { valve } from './recipe-steps.ts';

const HOUR = 3_600_000;
const DAY = 24 * HOUR;

/**
 * Writes the recipe book: each approved by a second person, one with a superseded revision, one with a draft that waits.
 * Returns the revision in use of each.
 */
export async function seedRecipes(
  db: Db,
  { actors, story, since }: { actors: Actors; story: Timeline; since: number },
): Promise<Record<RecipeKey, number>> {
  const { lena: author, quentin: approver } = actors;
  const inUse: Partial<Record<RecipeKey, number>> = {};
  const revise = async (fromId: number, options: { steps: NewStep[]; changeNote: string }) => {
    const { id, version } = await startDraft(db, { actor: author, fromId });
    return writeDraft(db, { actor: author, id, version, input: saveDraft.body.parse(options) });
  };
  const cite = async (revisionId: number, codes: readonly string[]) => {
    const series = await db.prisma.couponSeries.findMany({
      where: { code: { in: [...codes] }, status: 'approved' },
      select: { id: true },
    });
    for (const { id } of series) {
      const input = { seriesId: id, grade: 'measured', comparerIds: [], expiresOn: null, note: '' };
      await citeSeries(db, { actor: author, revisionId, input: citeCouponSeries.body.parse(input) });
    }
  };
  for (const [index, { key, steps, coupons, ...more }] of book.entries()) {
    const { before, ...head } = { before: null, ...more };
    const started = since + index * HOUR;
    let draft = await story.at(started, async () => {
      const facts = { ...head, notes: '', changeNote: 'first proved on coupons', steps: before ?? steps };
      const written = await addRecipe(db, { actor: author, input: createRecipe.body.parse(facts) });
      await cite(written.id, coupons);
      return written;
    });
    const sign = () =>
      approveRecipe(db, { actor: approver, id: draft.id, version: draft.version, checkEvidence });
    await story.at(started + 3 * HOUR, sign);
    if (before !== null) {
      const changeNote = 'two volts more: the blue was too purple';
      draft = await story.at(started + DAY, async () => {
        const next = await revise(draft.id, { steps, changeNote });
        await cite(next.id, coupons);
        return next;
      });
      await story.at(started + DAY + 2 * HOUR, sign);
    }
    inUse[key] = draft.id;
    if (key === 'gold') {
      const changeNote = 'one volt more, to be approved';
      await story.at(Date.now() - 6 * DAY, () => revise(draft.id, { steps: valve(15), changeNote }));
    }
  }
  return inUse as Record<RecipeKey, number>;
}
