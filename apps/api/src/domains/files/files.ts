import { createReadStream } from 'node:fs';
import { Readable } from 'node:stream';
import { fileKinds, maxFileBytes, type StoredFile } from '@huelot/contracts';
import type { Actor } from '../../actor.ts';
import { inSqlTransaction, type Db, type Run } from '../../db/client.ts';
import { Refusal, found } from '../../refusal.ts';
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
export const getFile = async (run: Run, id: number): Promise<StoredFile> =>
  toStoredFile(found(await queries.readFile(run, id), `file ${id}`));

export interface Upload {
  name: string;
  content: Readable;
  /** Whether more came than may be kept, known once the content has passed. */
  isCut: () => boolean;
}

/** Keeps a file in chunks, all of it or nothing, once its content is known to be what its name says. */
export async function keepFile(db: Db, of: { actor: Actor } & Upload): Promise<StoredFile> {
  const name = safeName(of.name);
  const ending = endingOf(name);
  return spooled(of.content, async (file) => {
    if (of.isCut() || file.sizeBytes > maxFileBytes) throw tooLarge();
    checkContent(ending, file);
    const id = await inSqlTransaction(db, async (run) => {
      await queries.dropNeverAttached(run);
      const fileId = await queries.addFile(run, {
        name,
        mediaType: fileKinds[ending].mediaType,
        sizeBytes: file.sizeBytes,
        sha256: file.sha256,
        createdById: of.actor.personId,
      });
      let seq = 0;
      for await (const bytes of createReadStream(file.path, { highWaterMark: chunkBytes })) {
        await queries.addChunk(run, { fileId, seq, bytes: bytes as Buffer });
        seq += 1;
      }
      return fileId;
    });
    return getFile(db.run, id);
  });
}

export const tooLarge = () =>
  new Refusal(
    'too-large',
    `The file has more than ${maxFileBytes / 1024 / 1024} MB, the most that is kept.`,
    {
      issues: [{ path: 'file', message: `has more than ${maxFileBytes / 1024 / 1024} MB` }],
    },
  );

/** The content of a file, read chunk by chunk as it is asked for. */
export function openFile(run: Run, id: number): Readable {
  async function* chunks() {
    for (let seq = 0; ; seq += 1) {
      const bytes = await queries.readChunk(run, id, seq);
      if (bytes === null) return;
      yield bytes;
    }
  }
  return Readable.from(chunks(), { objectMode: false });
}
