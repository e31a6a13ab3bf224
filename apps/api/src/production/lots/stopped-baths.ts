import { may, type releaseLots } from '@huelot/contracts';
import type { z } from 'zod';
import { writeAudit } from '../../core/audit/index.ts';
import type { SqlExecutor } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import { statusOfTanks } from '../../lab/baths/index.ts';
import type { LineFacts } from './plan-queries.ts';

type Input = Pick<z.output<typeof releaseLots.body>, 'tanks' | 'stopped'>;

/**
 * Refuses to send loads through a bath that is past a stop limit, unless somebody who may override says why it is done all the same.
 * Returns what the history of each lot says of it; nothing where no bath is stopped.
 */
export async function passStoppedBaths(
  execute: SqlExecutor,
  { actor, facts, input }: { actor: Actor; facts: LineFacts; input: Input },
): Promise<string | null> {
  const tankIds = [...new Set(input.tanks.map(({ tankId }) => tankId))];
  const statuses = await statusOfTanks(execute, tankIds);
  const findings = tankIds.flatMap((tankId) => {
    const status = statuses.get(tankId);
    if (status?.state !== 'stop') return [];
    const code = facts.tanks.find(({ id }) => id === tankId)?.code ?? '';
    return [`the bath of ${code} is stopped: ${status.reasons.join('; ')}`];
  });
  if (findings.length === 0) {
    if (input.stopped !== undefined) throw fieldError('stopped', 'is not needed: no bath is stopped');
    return null;
  }
  const words = findings.join('. ');
  if (input.stopped === undefined)
    throw new DomainError(
      'override-needed',
      `${words}. Choose another tank, or say why the loads go on all the same.`,
      { issues: [{ path: 'stopped.reason', message: 'is needed: why the loads go on all the same' }] },
    );
  if (!may(actor.roles, 'lab.override'))
    throw new DomainError('not-allowed', `${actor.displayName} may not override a bath that is stopped.`);
  return words;
}

/** Keeps the override in the history of a lot that was released by it. */
export async function keepStopOverride(
  execute: SqlExecutor,
  {
    actor,
    lot,
    finding,
    reason,
  }: { actor: Actor; lot: { id: number; number: string }; finding: string; reason: string },
): Promise<void> {
  await writeAudit(execute, actor, {
    ...{ kind: 'lot', id: lot.id, number: lot.number, reason },
    action: `let it go on although ${finding}`,
  });
}
