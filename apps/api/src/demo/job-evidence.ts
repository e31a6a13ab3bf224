import type { Actor } from '../kernel/actor.ts';
import { judgeEvidence, type ProvedWord } from '../colour/evidence/index.ts';
import type { Job, Shop } from './job.ts';

/** What quality says where no evidence proves a recipe on a part: nothing where it is proved. */
export async function wordFor(
  { db, actors }: Shop,
  { job, reason }: { job: Job; reason: string },
): Promise<ProvedWord | null> {
  const { materialId } = await db.prisma.part.findUniqueOrThrow({
    where: { id: job.part.id },
    select: { materialId: true },
  });
  const [verdict] = await judgeEvidence(db.execute, [
    { recipeRevisionId: job.recipeRevisionId, partId: job.part.id, materialId },
  ]);
  const { personId, displayName }: Pick<Actor, 'personId' | 'displayName'> = actors.quentin;
  return verdict?.state === 'proved' ? null : { personId, displayName, reason };
}
