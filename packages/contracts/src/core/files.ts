import { z } from 'zod';
import { EmptyBody, defineQuery, defineCommand } from '../kernel/http.ts';
import { content, Id, Instant, PathId } from '../kernel/scalars.ts';

/** The most a file may hold: 25 MB. */
export const maxFileBytes = 25 * 1024 * 1024;

/** The kinds of file that are kept, by the end of their name. The content is checked against it. */
export const fileKinds = {
  pdf: { mediaType: 'application/pdf', words: 'PDF' },
  png: { mediaType: 'image/png', words: 'PNG picture' },
  jpg: { mediaType: 'image/jpeg', words: 'JPEG picture' },
  jpeg: { mediaType: 'image/jpeg', words: 'JPEG picture' },
  webp: { mediaType: 'image/webp', words: 'WebP picture' },
  stl: { mediaType: 'model/stl', words: 'STL mesh' },
  step: { mediaType: 'model/step', words: 'STEP model' },
  stp: { mediaType: 'model/step', words: 'STEP model' },
  dxf: { mediaType: 'image/vnd.dxf', words: 'DXF drawing' },
  txt: { mediaType: 'text/plain; charset=utf-8', words: 'text' },
  csv: { mediaType: 'text/csv; charset=utf-8', words: 'CSV table' },
} as const;
export type FileEnding = keyof typeof fileKinds;

export const StoredFile = z
  .object({
    id: Id,
    name: z.string(),
    mediaType: z.string(),
    sizeBytes: z.int().min(0),
    /** SHA-256 of the content, hexadecimal. */
    sha256: z.string(),
    createdBy: z.string(),
    createdAt: Instant,
  })
  .meta({ id: 'StoredFile' });
export type StoredFile = z.output<typeof StoredFile>;

/** The file travels as `multipart/form-data` in one field named `file`. */
export const uploadFile = defineCommand({
  name: 'uploadFile',
  tags: ['core'],
  path: '/files',
  access: 'files.write',
  summary: 'Keep a file: multipart/form-data with one field named file, at most 25 MB',
  body: EmptyBody,
  bodyType: 'multipart/form-data',
  reply: StoredFile,
  status: 201,
  perMinute: 60,
});
/**
 * A file is read by those who may read a record it hangs on, and by whoever sent it. To anybody else there is none.
 */
export const getFile = defineQuery({
  name: 'getFile',
  tags: ['core'],
  path: '/files/:id',
  access: 'signed-in',
  summary: 'What is known about a file',
  params: { id: PathId },
  reply: StoredFile,
});
export const downloadFile = defineQuery({
  name: 'downloadFile',
  tags: ['core'],
  path: '/files/:id/content',
  access: 'signed-in',
  summary: 'The content of a file, streamed',
  params: { id: PathId },
  query: { show: z.literal('inline').optional() },
  reply: content('*/*', 'The bytes of the file, in its media type'),
});
