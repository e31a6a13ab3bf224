import { createHash } from 'node:crypto';
import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import { fileKinds, may, maxFileBytes, type StoredFile } from '@huelot/contracts';
import type { Actor } from '../../kernel/actor.ts';
import { withSqlTransaction, type Db, type SqlExecutor } from '../../db/client.ts';
import { bindContent } from '../../http/once.ts';
import { DomainError, orNotFound } from '../../kernel/refusal.ts';
import { checkContent, endingOf, safeName } from './content.ts';
import * as queries from './queries.ts';
import { spooled } from './spool.ts';

/** One row of a file: small enough to be cheap to read whole, large enough to be few. */
export const chunkBytes = 256 * 1024;

export const toStoredFile = (row: queries.FileRow): StoredFile => ({
  ...row,
  sha256: Buffer.from(row.sha256).toString('hex'),
  createdAt: row.createdAt.toISOString(),
});

/** What is known about a file, or a refusal that there is none. */
export const getFile = async (execute: SqlExecutor, id: number): Promise<StoredFile> =>
  toStoredFile(orNotFound(await queries.readFile(execute, id), `file ${id}`));

/** Those of several files that somebody may read. Whoever may not read a file is not told whether there is one. */
export async function readFilesFor(
  execute: SqlExecutor,
  { actor, ids }: { actor: Actor; ids: readonly number[] },
): Promise<queries.FileRow[]> {
  const uses = await queries.readFileUses(execute, ids);
  return queries.readFiles(
    execute,
    uses.filter((one) => mayRead(actor, one)).map(({ id }) => id),
  );
}

/** One file for somebody who may read it. */
export async function getFileFor(
  execute: SqlExecutor,
  { actor, id }: { actor: Actor; id: number },
): Promise<StoredFile> {
  const [row] = await readFilesFor(execute, { actor, ids: [id] });
  return toStoredFile(orNotFound(row, `file ${id}`));
}

/** Also to hang it on a record of one's own, which would show it. */
const mayRead = ({ personId, roles }: Actor, uses: queries.FileUses) =>
  uses.createdById === personId ||
  (uses.isOnPart && may(roles, 'parts.read')) ||
  (uses.isInLab && may(roles, 'lab.read')) ||
  (uses.isOnStandard && may(roles, 'standards.read')) ||
  (uses.isOnEnquiry && may(roles, 'enquiries.read')) ||
  (uses.isOnRecipe && may(roles, 'recipes.read')) ||
  (uses.isOnNonconformance && may(roles, 'lots.read')) ||
  (uses.isOnCompetence && may(roles, 'people.read'));

export interface Upload {
  name: string;
  content: Readable;
  /** Whether more came than may be kept, known once the content has passed. */
  isCut: () => boolean;
}

/** Keeps a file in chunks, all of it or nothing, once its content is known to be what its name says. */
export async function keepFile(db: Db, options: { actor: Actor } & Upload): Promise<StoredFile> {
  const name = safeName(options.name);
  const ending = endingOf(name);
  return spooled(options.content, async (file) => {
    if (options.isCut() || file.sizeBytes > maxFileBytes) throw tooLarge();
    checkContent(ending, file);
    await bindContent(digestOfFile(name, file));
    const id = await withSqlTransaction(db, async (execute) => {
      await queries.dropNeverAttached(execute);
      const fileId = await queries.addFile(execute, {
        name,
        mediaType: fileKinds[ending].mediaType,
        sizeBytes: file.sizeBytes,
        sha256: file.sha256,
        createdById: options.actor.personId,
      });
      let seq = 0;
      for await (const bytes of createReadStream(file.path, { highWaterMark: chunkBytes })) {
        await queries.addChunk(execute, { fileId, seq, bytes: bytes as Buffer });
        seq += 1;
      }
      return fileId;
    });
    return getFile(db.execute, id);
  });
}

/** Keeps a file that came inside another, in the transaction at hand; its content is known to be what its name says. */
export async function keepBytes(
  execute: SqlExecutor,
  options: { actor: Actor; name: string; bytes: Buffer },
): Promise<number> {
  const name = safeName(options.name);
  const ending = endingOf(name);
  return spooled(
    Readable.from([options.bytes], { objectMode: false }),
    async ({ sizeBytes, sha256, ...seen }) => {
      checkContent(ending, { ...seen, sizeBytes });
      const fileId = await queries.addFile(execute, {
        ...{ name, mediaType: fileKinds[ending].mediaType, sizeBytes, sha256 },
        createdById: options.actor.personId,
      });
      for (let at = 0; at < sizeBytes; at += chunkBytes)
        await queries.addChunk(execute, {
          ...{ fileId, seq: at / chunkBytes },
          bytes: options.bytes.subarray(at, at + chunkBytes),
        });
      return fileId;
    },
  );
}

/** The same bytes under the same name are the same upload. */
const digestOfFile = (name: string, { sha256 }: { sha256: Buffer }) =>
  createHash('sha256').update(`POST /api/files ${name} `).update(sha256).digest();

export const tooLarge = () =>
  new DomainError(
    'too-large',
    `The file has more than ${maxFileBytes / 1024 / 1024} MB, the most that is kept.`,
    {
      issues: [{ path: 'file', message: `has more than ${maxFileBytes / 1024 / 1024} MB` }],
    },
  );

/**
 * The content of a file, read chunk by chunk as it is asked for. Ends in a refusal where the content is not what the
 * digest taken at its upload says.
 */
export function openFile(execute: SqlExecutor, id: number): Readable {
  async function* chunks() {
    const file = orNotFound(await queries.readFile(execute, id), `file ${id}`);
    const digest = createHash('sha256');
    for (let seq = 0; ; seq += 1) {
      const bytes = await queries.readChunk(execute, id, seq);
      if (bytes === null) break;
      digest.update(bytes);
      yield bytes;
    }
    if (!digest.digest().equals(file.sha256)) throw altered(file);
  }
  return Readable.from(chunks(), { objectMode: false });
}

/** Reads a file through once, so that nothing is sent of one whose stored content was altered. */
export async function checkStored(execute: SqlExecutor, id: number): Promise<void> {
  for await (const chunk of openFile(execute, id)) void chunk;
}

const altered = ({ id, name }: queries.FileRow) =>
  new DomainError(
    'internal',
    `The stored content of file ${id}, ${name}, is not what was sent: it does not match the SHA-256 taken at its upload. ` +
      'It was altered in the database or the disk is damaged. Do not use it; tell whoever runs the server, who can take it from a backup.',
  );
