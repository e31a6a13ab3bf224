import type { AnalysisMethod, NewMethod } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { assertVersion, orNotFound, fieldError, DomainError } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import * as queries from './queries.ts';

const reread = async (tx: Tx, id: number) =>
  queries.toMethod(orNotFound(await queries.readMethod(tx.execute, id), `method ${id}`));
const nameOf = ({ code, revision }: { code: string; revision: number }) => `${code} rev ${revision}`;

/** Writes the first revision of a method, as a draft. */
export async function createMethod(
  db: Db,
  { actor, input }: { actor: Actor; input: NewMethod },
): Promise<AnalysisMethod> {
  return inTransaction(db, async (tx) => {
    if ((await queries.readRevisions(tx.execute, input.code)).length > 0)
      throw fieldError('code', `${input.code} is already in use: make a new revision of it`);
    const { id } = await queries.addMethod(tx, {
      input,
      revision: 1,
      changeNote: '',
      authorId: actor.personId,
    });
    const method = await reread(tx, id);
    await writeAudit(tx.execute, actor, { kind: 'method', id, number: nameOf(method), action: 'drafted' });
    return method;
  });
}

/** Begins the next revision of a method as a copy of this one. */
export async function reviseMethod(
  db: Db,
  options: { actor: Actor; id: number; changeNote: string },
): Promise<AnalysisMethod> {
  const { actor, changeNote } = options;
  return inTransaction(db, async (tx) => {
    await queries.lockMethod(tx.execute, options.id);
    const from = await reread(tx, options.id);
    const revisions = await queries.readRevisions(tx.execute, from.code);
    const draft = revisions.find(({ status }) => status === 'draft');
    if (draft !== undefined)
      throw new DomainError(
        'conflict',
        `Revision ${draft.revision} of ${from.code} is a draft already: change that one.`,
      );
    const { code, name, kind, settings, procedure, formula, source } = from;
    const { id } = await queries.addMethod(tx, {
      input: { code, name, kind, settings, procedure, formula, source },
      revision: Math.max(...revisions.map(({ revision }) => revision)) + 1,
      changeNote,
      authorId: actor.personId,
    });
    const method = await reread(tx, id);
    await writeAudit(tx.execute, actor, {
      kind: 'method',
      id,
      number: nameOf(method),
      action: 'drafted',
      reason: changeNote,
    });
    return method;
  });
}

async function draftOf(tx: Tx, { id, version }: { id: number; version: number }): Promise<AnalysisMethod> {
  await queries.lockMethod(tx.execute, id);
  const method = await reread(tx, id);
  if (method.status !== 'draft')
    throw new DomainError('immutable', `${nameOf(method)} is ${method.status}: make a new revision of it.`);
  assertVersion({ stored: method, version, what: nameOf(method) });
  return method;
}

/** Changes a draft. Its code stays: that is what its revisions have in common. */
export async function changeMethod(
  db: Db,
  options: { actor: Actor; id: number; version: number; input: NewMethod },
): Promise<AnalysisMethod> {
  const { actor, id, input } = options;
  return inTransaction(db, async (tx) => {
    const before = await draftOf(tx, options);
    if (input.code !== before.code)
      throw fieldError('code', `must stay ${before.code}, as in its other revisions`);
    if (input.kind !== before.kind && before.revision > 1)
      throw fieldError('kind', `must stay ${before.kind}: write a method of its own for another kind`);
    await queries.changeMethod(tx, { id, input });
    const after = await reread(tx, id);
    await writeAudit(tx.execute, actor, {
      kind: 'method',
      id,
      number: nameOf(after),
      action: 'changed',
      changes: changesBetween(before, after),
    });
    return after;
  });
}

/** Puts a draft in force; the revision before it is superseded and stays with the analyses that used it. */
export async function activateMethod(
  db: Db,
  options: { actor: Actor; id: number; version: number },
): Promise<AnalysisMethod> {
  const { actor, id } = options;
  return inTransaction(db, async (tx) => {
    const { code } = await draftOf(tx, options);
    await queries.putInForce(tx.execute, { id, code });
    const method = await reread(tx, id);
    await writeAudit(tx.execute, actor, {
      kind: 'method',
      id,
      number: nameOf(method),
      action: 'put in force',
    });
    return method;
  });
}

/** Discards a draft; analyses name only methods that were in force, so none loses its own. */
export async function discardMethodDraft(
  db: Db,
  options: { actor: Actor; id: number; version: number },
): Promise<void> {
  await inTransaction(db, async (tx) => {
    const draft = await draftOf(tx, options);
    await queries.removeDraft(tx, options.id);
    await writeAudit(tx.execute, options.actor, {
      kind: 'method',
      id: options.id,
      number: nameOf(draft),
      action: 'discarded the draft',
    });
  });
}
