import { type FilmEvidence, needsPicture, type NewFilmMeasurement } from '@huelot/contracts';
import { readFilesFor, readPictureSize } from '../../core/files/index.ts';
import type { SqlExecutor } from '../../db/client.ts';
import type { Actor } from '../../kernel/actor.ts';
import { fieldError } from '../../kernel/refusal.ts';

/** Refuses evidence whose picture is missing, is none, is nobody's business of the sender, or ends before what was clicked on it. */
export async function checkPicture(
  execute: SqlExecutor,
  {
    actor,
    input: { evidence, fileId },
  }: {
    actor: Actor;
    input: Pick<NewFilmMeasurement, 'evidence' | 'fileId'>;
  },
): Promise<void> {
  if (fileId === null) {
    if (needsPicture(evidence)) throw fieldError('fileId', 'must be the picture that was clicked on');
    return;
  }
  const [file] = await readFilesFor(execute, { actor, ids: [fileId] });
  if (file === undefined) throw fieldError('fileId', `there is no file ${fileId}`);
  if (!needsPicture(evidence)) return;
  if (!file.mediaType.startsWith('image/')) throw fieldError('fileId', `${file.name} is no picture`);
  const size = await readPictureSize(execute, fileId);
  if (size === null) return;
  // A JPEG may be shown turned: its longer side bounds both.
  const most = Math.max(size.width, size.height);
  const outside = clicksOf(evidence).find(({ x, y }) => x > most || y > most);
  if (outside !== undefined)
    throw fieldError(
      'evidence.pairs',
      `must lie on the picture, which is ${size.width} by ${size.height} pixels: ${outside.x}, ${outside.y} does not`,
    );
}

function clicksOf(evidence: FilmEvidence): { x: number; y: number }[] {
  if (evidence.kind !== 'cross-section' && evidence.kind !== 'pores') return [];
  const field = evidence.kind === 'pores' ? [{ x: evidence.fieldWidthPx, y: evidence.fieldHeightPx }] : [];
  return [evidence.scale, ...evidence.pairs].flatMap(({ from, to }) => [from, to]).concat(field);
}
