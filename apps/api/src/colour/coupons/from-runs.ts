import type { CouponSeries, NewCouponSeries, TrialPiece } from '@huelot/contracts';
import { trialFactorKeys, trialFactors } from '@huelot/contracts';
import { writeAudit } from '../../core/audit/index.ts';
import type { SqlExecutor, Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import { nameOf, readLocked } from './locked.ts';
import * as queries from './queries.ts';

const MOST_TRIALS = 500;

/**
 * Puts what was run at a tank into the draft of a series, as coupons that nobody has looked at yet. Returns the revision; null
 * where the code has no draft for just this material, bath and way to state the concentration. Whoever signed the run wrote
 * in the draft, and does not approve it.
 */
export async function addTrials(
  tx: Tx,
  options: {
    actor: Pick<Actor, 'personId' | 'displayName' | 'roles' | 'address'>;
    series: Pick<
      NewCouponSeries,
      'code' | 'contents' | 'component' | 'unit' | 'referenceTemperatureC' | 'materialId'
    >;
    run: { id: number; number: string; signedBy: string };
    pieces: readonly TrialPiece[];
  },
): Promise<number | null> {
  const { actor, run, pieces } = options;
  const found = await queries.readDraftId(tx.execute, options.series.code);
  if (found === null) return null;
  const draft = await readLocked(tx, found);
  if (draft.status !== 'draft' || !isFor(draft, options.series)) return null;
  if (draft.trials.length + pieces.length > MOST_TRIALS)
    throw new DomainError('conflict', `${nameOf(draft)} would have more than ${MOST_TRIALS} coupons.`);
  await queries.appendTrials(tx.execute, {
    seriesId: draft.id,
    after: draft.trials.length,
    run,
    pieces,
  });
  const writerIds = [...new Set([...draft.writers.map(({ id }) => id), actor.personId])];
  await queries.touchSeries(tx, draft.id, writerIds);
  await writeAudit(tx.execute, actor, {
    ...{ kind: 'coupons', id: draft.id, number: nameOf(draft) },
    action: `took ${pieces.length} trials of ${run.number} from the tank`,
  });
  return draft.revision;
}

const isFor = (
  draft: CouponSeries,
  { contents, component, unit, referenceTemperatureC, materialId }: Parameters<typeof addTrials>[1]['series'],
) =>
  draft.contents === contents &&
  draft.component === component &&
  draft.unit === unit &&
  draft.referenceTemperatureC === referenceTemperatureC &&
  draft.material.id === materialId;

/** What was read at the tank is not typed over: a coupon of a run keeps the settings that were signed, once in a series. */
export async function checkRuns(
  execute: SqlExecutor,
  { code, contents, materialId, trials }: NewCouponSeries,
): Promise<void> {
  const runIds = [...new Set(trials.flatMap(({ run }) => run?.id ?? []))];
  if (runIds.length === 0) return;
  const pieces = await queries.readPieces(execute, runIds);
  trials.forEach((trial, index) => {
    const { run } = trial;
    if (run === null) return;
    const path = `trials.${index}`;
    const piece = pieces.find(({ runId, position }) => runId === run.id && position === run.piece);
    if (piece === undefined || piece.seriesCode !== code)
      throw fieldError(`${path}.run`, `is no trial that was run for ${code}`);
    if (piece.contents !== contents || piece.materialId !== materialId)
      throw fieldError(`${path}.run`, `${piece.number} was run with another material or in another bath`);
    if (trials.findIndex((one) => one.run?.id === run.id && one.run.piece === run.piece) !== index)
      throw fieldError(`${path}.run`, `coupon ${run.piece} of ${piece.number} is in the series already`);
    for (const factor of trialFactorKeys) {
      if (trial[factor] === piece[factor]) continue;
      const { label, unit } = trialFactors[factor];
      throw fieldError(
        `${path}.${factor}`,
        `was signed at the tank in ${piece.number} (${label} ${piece[factor] ?? 'none'} ${unit}`.trim() +
          '): it stays',
      );
    }
  });
}
