import type { CouponSeries, NewCouponSeries } from '@huelot/contracts';
import { keepFiles, readFiles, readFilesFor, toStoredFile } from '../../core/files/index.ts';
import type { SqlExecutor, Tx } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { fieldError } from '../../kernel/refusal.ts';
import * as queries from './queries.ts';

/** The photos of a series with what was pointed at on them, in order. */
export async function readPhotos(execute: SqlExecutor, seriesId: number): Promise<CouponSeries['photos']> {
  const rows = await queries.readPhotos(execute, seriesId);
  const files = (
    await readFiles(
      execute,
      rows.map(({ fileId }) => fileId),
    )
  ).map(toStoredFile);
  return rows.flatMap(({ fileId, marks }) => {
    const file = files.find(({ id }) => id === fileId);
    return file === undefined ? [] : [{ file, marks }];
  });
}

/** Puts photos behind a draft in place of those it had; what is no picture, or none of the sender's to show, is refused. */
export async function writePhotos(
  tx: Tx,
  {
    actor,
    seriesId,
    photos,
    known,
  }: {
    actor: Actor;
    seriesId: number;
    photos: NewCouponSeries['photos'];
    /** Files that the series shows already. */
    known: readonly number[];
  },
): Promise<void> {
  const asked = photos.map(({ fileId }) => fileId);
  const found = await readFilesFor(tx.execute, { actor, ids: asked.filter((id) => !known.includes(id)) });
  for (const [index, fileId] of asked.entries()) {
    const path = `photos.${index}.fileId`;
    if (asked.indexOf(fileId) !== index) throw fieldError(path, 'is listed twice');
    if (known.includes(fileId)) continue;
    const file = found.find(({ id }) => id === fileId);
    if (file === undefined) throw fieldError(path, `there is no file ${fileId}`);
    if (!file.mediaType.startsWith('image/')) throw fieldError(path, `${file.name} is no picture`);
  }
  await queries.replacePhotos(tx, seriesId, photos);
  await keepFiles(tx.execute, asked);
}
