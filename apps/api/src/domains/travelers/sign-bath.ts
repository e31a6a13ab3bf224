import { type BathState, may, type signStep } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../actor.ts';
import type { Db, Run } from '../../db/client.ts';
import { found, Refusal } from '../../refusal.ts';
import { standingOf } from '../baths/index.ts';
import { personOfPin } from '../people/index.ts';
import type { SignedBath } from './sign-queries.ts';

type Input = z.output<typeof signStep.body>;

/** Whose word lets a step run in a held, stopped or overdue bath: the signer's, or that of somebody who proves it. */
export async function permittingOf(
  db: Db,
  {
    actor,
    signer,
    input,
  }: { actor: Actor; signer: Pick<Actor, 'personId' | 'displayName' | 'roles'>; input: Input },
) {
  if (!input.override) return null;
  const by =
    input.override.by === null
      ? signer
      : await personOfPin(db, { ...input.override.by, address: actor.address });
  if (!may(by.roles, 'lab.override')) {
    throw new Refusal(
      'not-allowed',
      `${by.displayName} may not let a step run in a bath that is on hold, stopped or overdue.`,
      {
        issues: [{ path: 'override.by', message: 'must be somebody of planning, lab or quality' }],
      },
    );
  }
  return by.personId;
}

/** How the bath stands now. On hold, stopped or overdue, it takes somebody's word and reason, and the lot remembers both. */
export async function bathOf(
  run: Run,
  of: {
    standing: { id: number; madeUpAt: Date; isJudged: boolean } | null;
    input: Input;
    permitting: number | null;
  },
): Promise<SignedBath | null> {
  const { standing: bath, input, permitting } = of;
  if (bath === null) return null;
  if (!bath.isJudged) return { state: 'not-watched', reasons: [], overrideReason: null, overrideById: null };
  const { status } = found((await standingOf(run, [bath])).get(bath.id), `bath ${bath.id}`);
  const { state, reasons } = status;
  if (!status.needsOverride) return { state, reasons, overrideReason: null, overrideById: null };
  if (!input.override || permitting === null) {
    throw new Refusal(
      'override-needed',
      `The bath is ${standsWords(status.state)}: ${reasons.join('; ')}. It takes the word of planning, lab or quality, with a reason.`,
      { current: status },
    );
  }
  return { state, reasons, overrideReason: input.override.reason, overrideById: permitting };
}

const standsWords = (state: BathState): string =>
  state === 'on-hold' ? 'on hold' : state === 'stop' ? 'stopped' : 'overdue for an analysis';
