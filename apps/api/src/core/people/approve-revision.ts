import {
  selfApprovalStatement,
  type Permission,
  type RecordKind,
  type RevisionStatus,
} from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import type { Tx } from '../../db/client.ts';
import { assertVersion, DomainError } from '../../kernel/refusal.ts';
import { signature, writeAudit } from '../audit/index.ts';
import { checkApproval } from './approval.ts';

/** How a revision stands after a decision. */
export interface RevisionFate {
  status: RevisionStatus;
  approvedById?: number;
  approvedAt?: Date;
  selfApproved?: boolean;
  endedAt?: Date;
  endReason?: string;
}

/** What a decision is about: how it is told to people, and the record whose history keeps it. */
interface Decided {
  id: number;
  /** `CS-4 rev 2` */
  name: string;
  status: RevisionStatus;
  version: number;
  record: { kind: RecordKind; id: number };
}

interface Decision {
  actor: Actor;
  version: number;
  revision: Decided;
  setStatus: (id: number, fate: RevisionFate) => Promise<unknown>;
}

/**
 * Approves a draft that others wrote, or the author's own where nobody else may, and supersedes the revision that was
 * approved before. `check` refuses what cannot be approved. All revisions of the record are locked by the caller.
 *
 * @example
 * await approveRevision(tx, { actor, version, typedName, revision, writers, before: null, permission: 'coupons.approve', check, setStatus });
 */
export async function approveRevision(
  tx: Tx,
  options: Decision & {
    typedName?: string | undefined;
    permission: Permission;
    writers: readonly { id: number }[];
    before: Pick<Decided, 'id' | 'name' | 'record'> | null;
    check: () => void | Promise<void>;
  },
): Promise<void> {
  const { actor, revision, before, writers, typedName, permission, setStatus } = options;
  const { name, status } = revision;
  if (status !== 'draft')
    throw new DomainError('immutable', `${name} is ${status}: only a draft can be approved.`);
  const { selfApproved } = await checkApproval(tx, { actor, writers, typedName, permission });
  assertVersion({ stored: revision, version: options.version, what: name });
  await options.check();

  const now = new Date();
  if (before !== null) {
    await setStatus(before.id, { status: 'superseded', endedAt: now });
    await writeAudit(tx.execute, actor, { ...before.record, number: before.name, action: 'superseded' });
  }
  await setStatus(revision.id, {
    ...{ status: 'approved', approvedById: actor.personId, approvedAt: now, selfApproved },
  });
  await writeAudit(tx.execute, actor, {
    ...revision.record,
    number: name,
    action: selfApproved ? selfApprovalStatement : 'approved',
    changes: signature(actor, 'approved'),
  });
}

/** Retires an approved revision. */
export async function retireRevision(tx: Tx, options: Decision & { reason: string }): Promise<void> {
  const { actor, revision, reason } = options;
  const { name, status } = revision;
  if (status !== 'approved')
    throw new DomainError(
      status === 'draft' ? 'conflict' : 'immutable',
      `${name} is ${status}: only an approved one can be retired.`,
    );
  assertVersion({ stored: revision, version: options.version, what: name });
  await options.setStatus(revision.id, { status: 'retired', endedAt: new Date(), endReason: reason });
  await writeAudit(tx.execute, actor, { ...revision.record, number: name, action: 'retired', reason });
}
