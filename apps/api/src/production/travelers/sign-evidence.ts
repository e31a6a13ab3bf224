import type { UnprovedWord } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { judgeEvidence, passGate, proveWord, readSignatureWord } from '../../colour/evidence/index.ts';
import { checkTurn } from './sign-checks.ts';
import type { StepRow } from './sign-queries.ts';
import * as signing from './sign-queries.ts';

/** The steps at which a colour is made: here the recipe has to be proved on the part. */
const isColourStep = ({ kind }: Pick<StepRow, 'kind'>) => kind === 'colour' || kind === 'anodize';

const wantedBy = (step: StepRow) => ({
  ...{
    recipeRevisionId: step.recipeRevisionId,
    materialId: step.materialId,
    partId: step.partId,
    alloy: step.alloy,
  },
  what: `Step ${step.position}, ${step.title}, of ${step.lotNumber}`,
  ...{ recordNumber: step.lotNumber, lotId: step.lotId, stepId: step.stepId },
});

/**
 * Refuses to sign a colour step of a recipe that no evidence proves on the part, unless somebody's word was given for the
 * lot, or quality takes the step as done.
 */
export async function checkEvidence(
  execute: SqlExecutor,
  options: {
    actor: Pick<Actor, 'personId'>;
    step: StepRow;
    settled: { personId: number; displayName: string; reason: string } | null;
  },
): Promise<void> {
  const { actor, step, settled } = options;
  if (!isColourStep(step)) return;
  const [verdict] = await judgeEvidence(execute, [step]);
  if (verdict?.state === 'proved' || (await readSignatureWord(execute, step)) !== null) return;
  await passGate(execute, { actor, place: 'signature', word: settled, wanted: [wantedBy(step)] });
}

/** Takes somebody's word that the colour steps of a lot may be signed without evidence, proved here and now. */
export async function allowUnproved(
  db: Db,
  { actor, stepId, input }: { actor: Actor; stepId: number; input: UnprovedWord },
): Promise<{ by: string; reason: string }> {
  const word = orNotFound(await proveWord(db, { actor, word: input, path: '' }), 'word');
  return withSqlTransaction(db, async (execute) => {
    const step = orNotFound(await signing.lockStep(execute, stepId), `step ${stepId}`);
    checkTurn(step);
    if (!isColourStep(step)) throw new DomainError('conflict', 'No colour is made in this step.');
    const [verdict] = await judgeEvidence(execute, [step]);
    if (verdict?.state === 'proved')
      throw new DomainError('conflict', `The recipe is proved on this part: ${verdict.words}.`);
    if ((await readSignatureWord(execute, step)) !== null)
      throw new DomainError('conflict', `Somebody gave their word for ${step.lotNumber} already.`);
    await passGate(execute, { actor, place: 'signature', word, wanted: [wantedBy(step)] });
    await writeAudit(
      execute,
      { ...actor, ...word },
      {
        kind: 'lot',
        id: step.lotId,
        number: step.lotNumber,
        action: `let step ${step.position}, ${step.title}, be signed on a recipe that is not proved on the part`,
        ...(word.personId === actor.personId
          ? {}
          : { changes: [{ field: 'station', old: null, new: actor.displayName }] }),
        reason: word.reason,
      },
    );
    return { by: word.displayName, reason: word.reason };
  });
}
