import { createHash } from 'node:crypto';
import {
  maxProcessFileBytes,
  PROCESS_FORMAT,
  PROCESS_VERSION,
  ProcessFile,
  processFileName,
  processSections,
  type ProcessExport,
  type StoredFile,
} from '@huelot/contracts';
import { z } from 'zod';
import { readRevision } from '../../catalog/recipes/index.ts';
import { writeAudit } from '../../core/audit/index.ts';
import { openFile } from '../../core/files/index.ts';
import { inTransaction, type Db, type Queryable } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { DomainError } from '../../kernel/refusal.ts';
import type { SigningKey } from '../../kernel/signing-key.ts';
import { readProvenanceOf } from './provenance.ts';
import * as queries from './queries.ts';
import { digestsOf, signedBytes } from './signed.ts';

/**
 * Writes the file, and into the history of the recipe who took which revision out, with the digest that tells a file that turns up
 * later from another.
 */
export const exportProcess = (
  db: Db,
  { actor, ...options }: { actor: Actor; revisionId: number; key: SigningKey | null },
): Promise<ProcessExport> =>
  inTransaction(db, async (tx) => {
    const { about, revision, name, text } = await writeProcess(tx, options);
    const sha256 = createHash('sha256').update(text, 'utf8').digest('hex');
    await writeAudit(tx.execute, actor, {
      ...about,
      action: `took out revision ${revision} as the file of a process`,
      changes: [
        { field: 'file', old: null, new: name },
        { field: 'sha256', old: null, new: sha256 },
      ],
    });
    return { name, sha256, text };
  });

/**
 * An approved revision with what proves it and where it comes from, signed with the key of the shop. Names of customers and
 * people stay here: of a lot go its alloy, its pieces and its colour, of a coupon everything but who made it.
 */
async function writeProcess(
  db: Queryable,
  { revisionId, key }: { revisionId: number; key: SigningKey | null },
) {
  const { recipe, revision, status, steps } = await readRevision(db, revisionId);
  if (status !== 'approved')
    throw new DomainError(
      'conflict',
      `Revision ${revision} of ${recipe.number} is ${status}: only an approved revision leaves the house.`,
    );
  if (key === null)
    throw new DomainError('conflict', 'The key that signs files of processes is not at hand here.');
  const { about, provenance } = await readProvenanceOf(db, revisionId);
  const evidence = await queries.readExported(db.execute, revisionId);
  const shop = await queries.readShopName(db.execute);
  const materials = await queries.readMaterials(
    db.execute,
    evidence.map(({ materialId }) => materialId),
  );
  const { name, family, baseMetals, colour, notes, number } = recipe;
  const sections = {
    recipe: { name, family, baseMetals, colour, notes, number, revision },
    steps,
    materials: evidence.flatMap(({ materialId, alloy }, index) => {
      const material = materials.find(({ id }) => id === materialId);
      const isFirst = evidence.findIndex((one) => isSame(one.alloy, alloy)) === index;
      // As it was called when it was proved.
      return material === undefined || !isFirst ? [] : [{ ...withoutId(material), ...alloy }];
    }),
    evidence: evidence.map(({ materialId: _, ...row }) => row),
    provenance: { origin: provenance.origin, priorArt: provenance.priorArt, rights: provenance.rights },
    files: await contentsOf(db, provenance.files),
  };
  const head = {
    ...({ format: PROCESS_FORMAT, version: PROCESS_VERSION } as const),
    ...{ exportedAt: shop.now, shop: { name: shop.name } },
  };
  // As it will be read: what the schema leaves out is not signed either.
  const read = z.object(processSections).safeParse(sections);
  if (!read.success)
    throw new DomainError(
      'conflict',
      `${number} revision ${revision} cannot leave as it is: ${read.error.issues.map(({ path, message }) => `${path.join('.')} ${message}`).join('; ')}.`,
    );
  const digests = digestsOf(read.data);
  const file = ProcessFile.parse({
    ...head,
    ...read.data,
    signature: {
      ...{ algorithm: 'Ed25519', publicKey: key.publicKey, digests },
      value: key.sign(signedBytes(head, digests)),
    },
  });
  const text = `${JSON.stringify(file, null, 1)}\n`;
  if (text.length > maxProcessFileBytes)
    throw new DomainError(
      'conflict',
      `The file would have ${Math.ceil(text.length / 1024 / 1024)} MB, and ${maxProcessFileBytes / 1024 / 1024} MB are read: take files out of its provenance.`,
    );
  return { about, revision, name: processFileName({ number, revision, day: shop.day }), text };
}

const isSame = (one: { name: string; condition: string }, other: { name: string; condition: string }) =>
  one.name === other.name && one.condition === other.condition;
const withoutId = <T extends { id: number }>({ id: _, ...rest }: T) => rest;

async function contentsOf(db: Queryable, files: readonly StoredFile[]): Promise<ProcessFile['files']> {
  const contents: ProcessFile['files'] = [];
  for (const { id, name, sha256 } of files) {
    const chunks: Buffer[] = [];
    for await (const chunk of openFile(db.execute, id)) chunks.push(chunk as Buffer);
    contents.push({ name, sha256, content: Buffer.concat(chunks).toString('base64') });
  }
  return contents;
}
