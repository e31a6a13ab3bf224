import { z } from 'zod';
import { NoBody, reading, writing } from './http.ts';
import { Id, Instant, PathId } from './scalars.ts';

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
export const uploadFile = writing({
  path: '/files',
  access: 'files.write',
  summary: 'Keep a file: multipart/form-data with one field named file, at most 25 MB',
  body: NoBody,
  reply: StoredFile,
  status: 201,
});
export const getFile = reading({
  path: '/files/:id',
  access: 'parts.read',
  summary: 'What is known about a file',
  params: { id: PathId },
  reply: StoredFile,
});
export const downloadFile = reading({
  path: '/files/:id/content',
  access: 'parts.read',
  summary: 'The content of a file, streamed',
  params: { id: PathId },
  query: { show: z.literal('inline').optional() },
  reply: z.any().meta({ description: 'The bytes of the file' }),
});
