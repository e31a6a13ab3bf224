import type { SqlExecutor } from '../../db/client.ts';
import { readChunk } from './queries.ts';

export interface PictureSize {
  width: number;
  height: number;
}

/** How large a PNG or JPEG is, by its header; null of anything else, or where the header does not say. */
export async function readPictureSize(execute: SqlExecutor, fileId: number): Promise<PictureSize | null> {
  const head = await readChunk(execute, fileId, 0);
  return head === null ? null : sizeOfPicture(Buffer.from(head));
}

/**
 * The size in the header of a PNG (ISO/IEC 15948, IHDR) or a JPEG (ISO/IEC 10918-1, start of frame), in pixels as stored.
 *
 * @example
 * sizeOfPicture(png) // { width: 640, height: 480 }
 */
export function sizeOfPicture(head: Buffer): PictureSize | null {
  if (head.length >= 24 && head.toString('latin1', 12, 16) === 'IHDR')
    return sized(head.readUInt32BE(16), head.readUInt32BE(20));
  if (head.length >= 4 && head.readUInt16BE(0) === 0xffd8) return sizeOfJpeg(head);
  return null;
}

/** Start of frame: C0 to CF, without the tables C4, C8 and CC that lie between. */
const isFrame = (marker: number) => marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);

function sizeOfJpeg(head: Buffer): PictureSize | null {
  let offset = 2;
  while (offset + 9 <= head.length && head[offset] === 0xff) {
    if (isFrame(head[offset + 1] ?? 0))
      return sized(head.readUInt16BE(offset + 7), head.readUInt16BE(offset + 5));
    offset += 2 + head.readUInt16BE(offset + 2);
  }
  return null;
}

const sized = (width: number, height: number): PictureSize | null =>
  width > 0 && height > 0 ? { width, height } : null;
