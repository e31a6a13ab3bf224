import type { AnalysisMethod, NewMethod } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inTransaction, type Db, type Tx } from '../../db/client.ts';
import { checkVersion, found, invalid, Refusal } from '../../refusal.ts';
import { changesBetween, record } from '../audit/index.ts';
import * as queries from './queries.ts';

const reread = async (tx: Tx, id: number) =>
  queries.toMethod(found(await queries.readMethod(tx.run, id), `method ${id}`));
const nameOf = ({ code, revision }: { code: string; revision: number }) => `${code} rev ${revision}`;

/** Writes the first revision of a method, as a draft. */
export async function createMethod(db: Db, of: { actor: Actor; input: NewMethod }): Promise<AnalysisMethod> {
  const { actor, input } = of;
  return inTransaction(db, async (tx) => {
    if ((await queries.readRevisions(tx.run, input.code)).length > 0)
      throw invalid('code', `${input.code} is taken already: make a new revision of it`);
    const { id } = await queries.addMethod(tx, {
      input,
      revision: 1,
      changeNote: '',
      authorId: actor.personId,
    });
    const method = await reread(tx, id);
    await record(tx.run, actor, { kind: 'method', id, number: nameOf(method), action: 'drafted' });
    return method;
  });
}

/** Begins the next revision of a method as a copy of this one. */
export async function reviseMethod(
  db: Db,
  of: { actor: Actor; id: number; changeNote: string },
): Promise<AnalysisMethod> {
  const { actor, changeNote } = of;
  return inTransaction(db, async (tx) => {
    await queries.lockMethod(tx.run, of.id);
    const from = await reread(tx, of.id);
    const revisions = await queries.readRevisions(tx.run, from.code);
    const draft = revisions.find(({ status }) => status === 'draft');
    if (draft !== undefined)
      throw new Refusal(
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
    await record(tx.run, actor, {
      kind: 'method',
      id,
      number: nameOf(method),
      action: 'drafted',
      reason: changeNote,
    });
    return method;
  });
}

async function draftOf(tx: Tx, of: { id: number; version: number }): Promise<AnalysisMethod> {
  await queries.lockMethod(tx.run, of.id);
  const method = await reread(tx, of.id);
  if (method.status !== 'draft')
    throw new Refusal('frozen', `${nameOf(method)} is ${method.status}: make a new revision of it.`);
  checkVersion({ stored: method, version: of.version, what: nameOf(method) });
  return method;
}

/** Changes a draft. Its code stays: that is what its revisions have in common. */
export async function changeMethod(
  db: Db,
  of: { actor: Actor; id: number; version: number; input: NewMethod },
): Promise<AnalysisMethod> {
  const { actor, id, input } = of;
  return inTransaction(db, async (tx) => {
    const before = await draftOf(tx, of);
    if (input.code !== before.code)
      throw invalid('code', `must stay ${before.code}, as in its other revisions`);
    if (input.kind !== before.kind && before.revision > 1)
      throw invalid('kind', `must stay ${before.kind}: write a method of its own for another kind`);
    await queries.changeMethod(tx, { id, input });
    const after = await reread(tx, id);
    await record(tx.run, actor, {
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
export async function putMethodInForce(
  db: Db,
  of: { actor: Actor; id: number; version: number },
): Promise<AnalysisMethod> {
  const { actor, id } = of;
  return inTransaction(db, async (tx) => {
    const { code } = await draftOf(tx, of);
    await queries.putInForce(tx.run, { id, code });
    const method = await reread(tx, id);
    await record(tx.run, actor, { kind: 'method', id, number: nameOf(method), action: 'put in force' });
    return method;
  });
}
