import type { Provenance, updateProvenance } from '@huelot/contracts';
import type { z } from 'zod';
import type { Actor } from '../../kernel/actor.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import { assertVersion, fieldError, orNotFound } from '../../kernel/refusal.ts';
import { changesBetween, writeAudit } from '../../core/audit/index.ts';
import { keepFiles, readFiles, readFilesFor, toStoredFile } from '../../core/files/index.ts';
import * as queries from './queries.ts';

/** Where a revision comes from, with the recipe that it is of. */
export async function readProvenanceOf({ execute }: Pick<Queryable, 'execute'>, revisionId: number) {
  const { fileIds, recipeId, number, revision, ...row } = orNotFound(
    await queries.readProvenance(execute, revisionId),
    `recipe revision ${revisionId}`,
  );
  const stored = (await readFiles(execute, fileIds)).map(toStoredFile);
  const files = fileIds.flatMap((id) => stored.find((file) => file.id === id) ?? []);
  const provenance: Provenance = { ...row, files };
  return { about: { kind: 'recipe', id: recipeId, number } as const, revision, provenance };
}

/** Writes where a revision comes from. It is no part of what was approved: what is learnt later is written later. */
export function writeProvenanceOf(
  db: Db,
  {
    actor,
    revisionId,
    version,
    input,
  }: {
    actor: Actor;
    revisionId: number;
    version: number;
    input: z.output<typeof updateProvenance.body>;
  },
): Promise<Provenance> {
  return inTransaction(db, async (tx) => {
    const { about } = await readProvenanceOf(tx, revisionId);
    await queries.lockRecipe(tx.execute, about.id);
    const { provenance: before, revision } = await readProvenanceOf(tx, revisionId);
    assertVersion({ stored: before, version, what: `The provenance of ${about.number}` });
    const known = new Set(before.files.map(({ id }) => id));
    const asked = input.fileIds.filter((id) => !known.has(id));
    const found = await readFilesFor(tx.execute, { actor, ids: asked });
    for (const [index, id] of input.fileIds.entries()) {
      if (!known.has(id) && !found.some((file) => file.id === id))
        throw fieldError(`fileIds.${index}`, `there is no file ${id}`);
      if (input.fileIds.indexOf(id) !== index) throw fieldError(`fileIds.${index}`, 'is listed twice');
    }
    await queries.writeProvenance(tx, revisionId, input);
    await keepFiles(tx.execute, input.fileIds);
    const { provenance: after } = await readProvenanceOf(tx, revisionId);
    const forHistory = ({ files, takenOver: _, ...texts }: Provenance) => ({
      ...texts,
      files: files.map(({ name }) => name),
    });
    await writeAudit(tx.execute, actor, {
      ...about,
      action: `wrote where revision ${revision} comes from`,
      changes: changesBetween(forHistory(before), forHistory(after)),
    });
    return after;
  });
}
