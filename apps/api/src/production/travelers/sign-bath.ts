import { type BathState, type BathStatus, may, type Role } from '@huelot/contracts';
import type { SqlExecutor } from '../../db/client.ts';
import { orNotFound, DomainError } from '../../kernel/refusal.ts';
import { readBathStatuses } from '../../lab/baths/index.ts';
import { lockOverride } from './floor-queries.ts';
import type { SignedBath, StepRow } from './sign-queries.ts';

export interface StandingBath {
  id: number;
  madeUpAt: Date;
  isJudged: boolean;
}

/** How a bath stands now; null where nobody judges it. */
export async function readTankBathStatus(
  execute: SqlExecutor,
  bath: StandingBath,
): Promise<BathStatus | null> {
  if (!bath.isJudged) return null;
  return orNotFound((await readBathStatuses(execute, [bath])).get(bath.id), `bath ${bath.id}`).status;
}

/**
 * How the bath stands now. On hold, stopped or overdue, it takes somebody's word and reason, and the lot remembers
 * both: an override that was proved for this very step, or the word of quality who takes the step afterwards.
 */
export async function findBath(
  execute: SqlExecutor,
  options: {
    standing: StandingBath | null;
    step: StepRow;
    overrideId: number | null;
    doneAt: Date;
    settled: { personId: number; reason: string } | null;
  },
): Promise<{ bath: SignedBath; overrideId: number | null } | null> {
  const { standing, step, overrideId, doneAt, settled } = options;
  if (standing === null) return null;
  const status = await readTankBathStatus(execute, standing);
  const plain = { overrideReason: null, overrideById: null };
  if (status === null) return { bath: { state: 'not-watched', reasons: [], ...plain }, overrideId: null };
  const { state, reasons } = status;
  if (!status.needsOverride) return { bath: { state, reasons, ...plain }, overrideId: null };
  if (settled !== null) {
    const word = { overrideReason: settled.reason, overrideById: settled.personId };
    return { bath: { state, reasons, ...word }, overrideId: null };
  }
  const override = overrideId === null ? null : await lockOverride(execute, overrideId);
  const fault =
    override === null
      ? 'It needs an override by planning, lab or quality, with a reason.'
      : faultOf(override, { stepId: step.stepId, bathId: standing.id, state, doneAt });
  if (override === null || fault !== null) {
    throw new DomainError(
      'override-needed',
      `The bath is ${stateWords(state)}: ${reasons.join('; ')}. ${fault}`,
      {
        current: status,
      },
    );
  }
  return {
    bath: { state, reasons, overrideReason: override.reason, overrideById: override.grantedById },
    overrideId: override.id,
  };
}

function faultOf(
  override: NonNullable<Awaited<ReturnType<typeof lockOverride>>>,
  wanted: { stepId: number; bathId: number; state: string; doneAt: Date },
): string | null {
  if (override.stepId !== wanted.stepId || override.bathId !== wanted.bathId)
    return 'The override that was named is for another step or bath.';
  if (override.signOffId !== null) return 'The override was used already.';
  if (override.bathState !== wanted.state)
    return `The override was given while the bath was ${stateWords(override.bathState as BathState)}.`;
  if (override.expiresAt < wanted.doneAt) return 'The override has expired: ask again.';
  if (!override.active || !may(override.roles as Role[], 'lab.override'))
    return `${override.grantedBy} may no longer give it.`;
  return null;
}

export const stateWords = (state: BathState): string =>
  state === 'on-hold' ? 'on hold' : state === 'stop' ? 'stopped' : 'overdue for an analysis';

/** Nobody's word lets a step run in a tank that was never filled. */
export function refuseUnfilled({
  code,
  makeUpToDo,
}: {
  code: string | null;
  makeUpToDo: string | null;
}): void {
  if (makeUpToDo === null) return;
  throw new DomainError(
    'conflict',
    `The bath in tank ${code ?? ''} is not filled yet: its make-up ${makeUpToDo} is planned and not done.`,
  );
}
