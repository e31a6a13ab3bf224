import type { Competence, CompetenceBoard, grantCompetence } from '@huelot/contracts';
import type { z } from 'zod';
import { signature, writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFiles, readFilesFor, toStoredFile } from '../../core/files/index.ts';
import { inTransaction, type Db, type SqlExecutor, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { assertVersion, DomainError, fieldError, orNotFound } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

export async function readBoard(execute: SqlExecutor, personId?: number): Promise<CompetenceBoard> {
  return {
    rule: await queries.readRule(execute),
    people: await queries.readPeople(execute, personId),
    items: await shown(execute, await queries.readAll(execute, personId)),
  };
}

async function shown(execute: SqlExecutor, rows: readonly queries.CompetenceRow[]): Promise<Competence[]> {
  const files = (
    await readFiles(
      execute,
      rows.flatMap(({ fileId }) => fileId ?? []),
    )
  ).map(toStoredFile);
  return rows.map(({ fileId, grantedAt, withdrawnBy, withdrawnAt, withdrawReason, ...row }) => ({
    ...row,
    file: files.find(({ id }) => id === fileId) ?? null,
    grantedAt: grantedAt.toISOString(),
    withdrawn:
      withdrawnAt === null
        ? null
        : { by: withdrawnBy ?? '', at: withdrawnAt.toISOString(), reason: withdrawReason },
  }));
}
const view = async (tx: Tx, id: number): Promise<Competence> => {
  const row = orNotFound(await queries.readOne(tx.execute, id), `competence ${id}`);
  return orNotFound((await shown(tx.execute, [row]))[0] ?? null, `competence ${id}`);
};

/** Says by name that somebody is fit for a kind of work. Nobody says it of themselves while somebody else could. */
export function grant(
  db: Db,
  { actor, input }: { actor: Actor; input: z.output<typeof grantCompetence.body> },
): Promise<Competence> {
  return inTransaction(db, async (tx) => {
    const [person] = await queries.readPeople(tx.execute, input.personId);
    if (person === undefined) throw fieldError('personId', 'is nobody who works here now');
    if (input.untilOn !== null && input.untilOn < input.fromOn)
      throw fieldError('untilOn', `must be ${input.fromOn} or later`);
    if (input.personId === actor.personId) {
      const others = await queries.readJudges(tx.execute, actor.personId);
      if (others.length > 0)
        throw new DomainError(
          'not-allowed',
          `Nobody grants a competence to themselves while somebody else may: ${others.map(({ displayName }) => displayName).join(', ')}.`,
        );
    }
    if (input.fileId !== null) {
      if ((await readFilesFor(tx.execute, { actor, ids: [input.fileId] })).length === 0)
        throw fieldError('fileId', `there is no file ${input.fileId}`);
      await keepFiles(tx.execute, [input.fileId]);
    }
    const { id } = await queries.addCompetence(tx, { ...input, grantedById: actor.personId });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'person', id: person.id, number: null, action: 'granted a competence' },
      changes: [
        { field: 'activity', old: null, new: input.activity },
        { field: 'family', old: null, new: input.family ?? 'every family' },
        { field: 'untilOn', old: null, new: input.untilOn },
        ...signature(actor, 'granted'),
      ],
      reason: input.evidence,
    });
    return view(tx, id);
  });
}

/** Withdraws a competence with the reason; what was done by it until now stands. */
export function withdraw(
  db: Db,
  { actor, id, reason }: { actor: Actor; id: number; reason: string },
): Promise<Competence> {
  return inTransaction(db, async (tx) => {
    await queries.lockOne(tx.execute, id);
    const row = orNotFound(await queries.readOne(tx.execute, id), `competence ${id}`);
    if (row.withdrawnAt !== null) throw new DomainError('conflict', 'It was withdrawn already.');
    await queries.withdraw(tx, id, { byId: actor.personId, reason });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'person', id: row.personId, number: null, action: 'withdrew a competence', reason },
      changes: [{ field: 'activity', old: row.activity, new: null }],
    });
    return view(tx, id);
  });
}

/** Turns the rule on or off for the whole shop. */
export function setRule(
  db: Db,
  { actor, version, on }: { actor: Actor; version: number; on: boolean },
): Promise<CompetenceBoard['rule']> {
  return inTransaction(db, async (tx) => {
    await queries.lockRule(tx.execute);
    const before = await queries.readRule(tx.execute);
    assertVersion({ stored: before, version, what: 'The setup of the shop' });
    await queries.writeRule(tx.execute, on);
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'shop', id: 1, action: `turned the rule of competence ${on ? 'on' : 'off'}` },
      changes: [{ field: 'competenceRule', old: before.on, new: on }],
    });
    return queries.readRule(tx.execute);
  });
}
