import type { SqlExecutor } from '../../db/client.ts';
import type { Fault } from './faults.ts';
import { readAlteredPapers, readAttached, readFoundDigests, readLastAttached } from './file-queries.ts';

const BATCH = 20;

/** Compares the content of every issued paper and attached file with the digest that was taken when it was issued or sent. */
export async function verifyFiles(
  execute: SqlExecutor,
  {
    isOver,
    onProgress,
    add,
  }: { isOver: () => boolean; onProgress: (done: number) => Promise<void>; add: (fault: Fault) => void },
): Promise<{ complete: boolean; files: number }> {
  for (const { id, title } of await readAlteredPapers(execute))
    add({
      ...{ position: null, kind: 'file', table: 'issued_paper', recordId: String(id) },
      words: `The bytes of the issued paper ${id} (${title}) were changed: they do not have the SHA-256 that was taken when it was issued (table issued_paper).`,
    });
  const last = await readLastAttached(execute);
  let files = 0;
  for (let after = 0; ;) {
    if (isOver()) return { complete: false, files };
    const rows = await readAttached(execute, { after, limit: BATCH });
    if (rows.length === 0) return { complete: true, files };
    const found = await readFoundDigests(
      execute,
      rows.map(({ id }) => id),
    );
    for (const { id, name, sha256 } of rows) {
      files += 1;
      after = id;
      const now = found.get(id) ?? null;
      if (now === sha256) continue;
      add({
        ...{ position: null, kind: 'file', table: 'file_chunk', recordId: String(id) },
        words: `The content of the attached file ${id} (${name}) was ${now === null ? 'deleted' : 'changed'}: it does not have the SHA-256 that was taken when it was sent (table file_chunk).`,
      });
    }
    await onProgress(after / last);
  }
}
