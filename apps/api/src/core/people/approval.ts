import {
  permissions,
  type Approval,
  type ApprovalRules,
  type Permission,
  type updateApprovalRules,
} from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { assertVersion, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit, signature } from '../audit/index.ts';
import * as queries from './approval-queries.ts';

interface Asked {
  actor: Actor;
  /** What the approval takes. */
  permission: Permission;
  writers: readonly { id: number }[];
}

/**
 * Who the actor would be to a draft. Whoever wrote in it approves only where the shop allows it and nobody else could:
 * one rule, for the page that offers it and for the signature.
 *
 * @example
 * await approvalOf(db, { actor, permission: 'recipes.approve', writers: draft.writers });
 */
export async function approvalOf(db: Queryable, { actor, permission, writers }: Asked): Promise<Approval> {
  if (writers.every(({ id }) => id !== actor.personId)) return { as: 'second-person', words: '' };
  const others = await queries.readOthers(db.execute, {
    personId: actor.personId,
    roles: permissions[permission],
  });
  if (others.length > 0) {
    const names = others.map(({ displayName }) => displayName).join(', ');
    return {
      as: 'nobody',
      words: `You edited this draft, so somebody else must approve it. Who may: ${names}.`,
    };
  }
  return (await queries.readApprovalRules(db)).selfApproval
    ? { as: 'author', words: '' }
    : {
        as: 'nobody',
        words:
          'You wrote in this draft, and nobody else here may approve it. An owner can allow approval by the author under Setup, Approvals.',
      };
}

const plain = (name: string) => name.normalize('NFKC').trim().replaceAll(/\s+/g, ' ').toLowerCase();

/** Refuses whoever may not approve; says whether it is the author's own approval, signed with the name typed out. */
export async function checkApproval(
  db: Queryable,
  { typedName, ...asked }: Asked & { typedName?: string | undefined },
): Promise<{ selfApproved: boolean }> {
  const { as, words } = await approvalOf(db, asked);
  if (as === 'nobody') throw new DomainError('not-allowed', words);
  if (as === 'second-person') {
    if (typedName !== undefined)
      throw fieldError('typedName', 'is only for who approves their own draft: you wrote none of it');
    return { selfApproved: false };
  }
  const { displayName } = asked.actor;
  if (typedName === undefined || plain(typedName) !== plain(displayName))
    throw fieldError('typedName', `must be your name, ${displayName}: you approve your own draft`);
  return { selfApproved: true };
}

export const readApprovalRules = (db: Queryable): Promise<ApprovalRules> => queries.readApprovalRules(db);

/** Allows or forbids approval by the author. What was approved so far keeps how it was approved. */
export const changeApprovalRules = (
  db: Db,
  {
    actor,
    version,
    input,
  }: { actor: Actor; version: number; input: z.output<typeof updateApprovalRules.body> },
): Promise<ApprovalRules> =>
  inTransaction(db, async (tx) => {
    await queries.lockShop(tx.execute);
    const before = await queries.readApprovalRules(tx);
    assertVersion({ stored: before, version, what: 'The setup of the shop' });
    await queries.setSelfApproval(tx, input.selfApproval);
    await writeAudit(tx.execute, actor, {
      kind: 'shop',
      id: 1,
      action: input.selfApproval
        ? 'allowed approval by the author where nobody else may approve'
        : 'forbade approval by the author',
      changes: [...changesBetween(before, input), ...signature(actor, 'changed')],
    });
    return queries.readApprovalRules(tx);
  });
