import { createHash } from 'node:crypto';
import { createRecipe, type ElsewhereProof, type ProcessFile, type ProcessPreview } from '@huelot/contracts';
import { addMaterial } from '../../catalog/materials/index.ts';
import { addRecipe } from '../../catalog/recipes/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { keepBytes, keepFiles } from '../../core/files/index.ts';
import { inTransaction, type Db, type Queryable, type Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError, fieldError } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';
import { readProcess } from './read.ts';

type Evidence = ProcessFile['evidence'][number];
const labelOf = ({ kind, series }: Evidence) =>
  series === null
    ? kind === 'first-article'
      ? 'first article'
      : 'trial lot'
    : `${series.code} rev ${series.revision}`;

/** What a file holds, and what it would bring along. */
export async function previewProcess(
  { execute }: Pick<Queryable, 'execute'>,
  text: string,
): Promise<ProcessPreview> {
  const { file, fingerprint } = readProcess(text);
  const here = await materialsHere(execute, file);
  return {
    ...{ shop: file.shop.name, exportedAt: file.exportedAt, fingerprint, recipe: file.recipe },
    stepCount: file.steps.length,
    evidence: file.evidence.map((row) => ({
      ...{ label: labelOf(row), alloy: row.alloy.name, condition: row.alloy.condition },
      ...{ pieces: row.pieces, grade: row.grade },
    })),
    newMaterials: file.materials
      .filter((material) => here(material) === null)
      .map(({ name, condition }) => [name, condition].filter(Boolean).join(', ')),
    files: file.files.map(({ name }) => name),
    rights: file.provenance.rights,
  };
}

/**
 * Takes a process over as the draft of a new recipe: its steps, where it comes from, and what proved it there. That proves
 * nothing here; the gate asks for a first article. All of it is written, or nothing.
 */
export function takeOver(
  db: Db,
  { actor, text, fingerprint: compared }: { actor: Actor; text: string; fingerprint: string },
): Promise<{ recipeId: number; revisionId: number; number: string }> {
  const { file, fingerprint } = readProcess(text);
  if (compared !== fingerprint)
    throw fieldError('fingerprint', `is not that of the key which signed the file, ${fingerprint}`);
  const sha256 = createHash('sha256').update(text, 'utf8').digest();
  return inTransaction(db, async (tx) => {
    const before = await queries.findImport(tx.execute, sha256);
    if (before !== null)
      throw new DomainError('already-exists', `This file was taken over already, as ${before.number}.`, {
        issues: [{ path: 'text', message: `was taken over already, as ${before.number}` }],
      });
    const materialIds = await bringMaterials(tx, { actor, file });
    const { number, revision, ...head } = file.recipe;
    const from = `${number} rev ${revision}`;
    const draft = await addRecipe(tx, {
      actor,
      input: createRecipe.body.parse({
        ...{ ...head, steps: file.steps },
        changeNote: `Taken over from ${file.shop.name || 'another shop'}, ${from}; not proved here yet.`,
      }),
    });
    const { recipe, id: revisionId } = draft;
    for (const row of file.evidence)
      await queries.addElsewhere(tx, {
        ...{ revisionId, grade: row.grade, pieces: row.pieces, instrument: row.instrument, lab: row.lab },
        ...{ alloy: row.alloy.name, condition: row.alloy.condition, baseMetal: row.alloy.baseMetal },
        materialId: materialIds(row.alloy),
        elsewhere: {
          ...{ shop: file.shop.name, recipe: from, label: labelOf(row), provedBy: row.kind },
          ...{ exportedAt: file.exportedAt, fingerprint, series: row.series },
        } satisfies ElsewhereProof,
        citedById: actor.personId,
      });
    await queries.writeProvenance(tx, revisionId, {
      ...file.provenance,
      fileIds: await bringFiles(tx, { actor, file }),
    });
    await queries.addImport(tx, {
      ...{ recipeId: recipe.id, sha256, shop: file.shop.name, recipe: from, fingerprint },
      ...{ exportedAt: new Date(file.exportedAt), personId: actor.personId },
    });
    await writeAudit(tx.execute, actor, {
      ...{ kind: 'recipe', id: recipe.id, number: recipe.number },
      action: `took over ${from} of ${file.shop.name || 'another shop'}, signed with ${fingerprint}`,
    });
    return { recipeId: recipe.id, revisionId, number: recipe.number };
  });
}

type Named = Pick<ProcessFile['materials'][number], 'name' | 'condition' | 'baseMetal'>;

/** Finds the material of this shop that goes by that name in that condition. */
async function materialsHere(execute: Queryable['execute'], { materials }: ProcessFile) {
  const rows = await queries.readNamed(
    execute,
    materials.map(({ name }) => name),
  );
  return ({ name, condition }: Named) =>
    rows.find((row) => row.name === name && row.condition === condition) ?? null;
}

/** Adds the alloys that are not here yet; one that goes by the same name and is another metal is refused. */
async function bringMaterials(tx: Tx, { actor, file }: { actor: Actor; file: ProcessFile }) {
  const here = await materialsHere(tx.execute, file);
  const ids = new Map<string, number>();
  const keyOf = ({ name, condition }: Omit<Named, 'baseMetal'>) => JSON.stringify([name, condition]);
  for (const [index, material] of file.materials.entries()) {
    const found = here(material);
    if (found !== null && found.baseMetal !== material.baseMetal)
      throw fieldError(
        `text.materials.${index}.baseMetal`,
        `is ${material.baseMetal}; here ${material.name} is ${found.baseMetal}`,
      );
    const id =
      found?.id ?? ids.get(keyOf(material)) ?? (await addMaterial(tx, { actor, facts: material })).id;
    ids.set(keyOf(material), id);
  }
  return (alloy: Named) => ids.get(keyOf(alloy)) ?? 0;
}

async function bringFiles(tx: Tx, { actor, file }: { actor: Actor; file: ProcessFile }): Promise<number[]> {
  const ids: number[] = [];
  for (const { name, content } of file.files) {
    ids.push(await keepBytes(tx.execute, { actor, name, bytes: Buffer.from(content, 'base64') }));
  }
  await keepFiles(tx.execute, ids);
  return ids;
}
