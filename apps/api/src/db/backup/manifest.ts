import { createHash } from 'node:crypto';
import { createReadStream, existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';
import { z } from 'zod';

const TableCopy = z.object({
  name: z.string(),
  columns: z.array(z.string()),
  rows: z.int(),
  /** A name without a folder. */
  file: z.string().regex(/^[^/\\]+$/),
  sha256: z.string(),
});
export type TableCopy = z.output<typeof TableCopy>;

/**
 * What a backup says of itself, in the file `manifest.json` that is written last. The format is that of the layout: a
 * folder with this file and one gzipped `COPY` text file for each table.
 */
const Manifest = z.object({
  format: z.literal(1),
  release: z.string(),
  takenAt: z.string(),
  postgresql: z.string(),
  migrations: z.array(z.object({ name: z.string(), checksum: z.string() })),
  tables: z.array(TableCopy),
  sequences: z.array(z.object({ name: z.string(), value: z.string(), isCalled: z.boolean() })),
});
export type Manifest = z.output<typeof Manifest>;

export const manifestFile = (folder: string) => path.join(folder, 'manifest.json');

/** Reads a backup's manifest after checking that every file of it is there as it was written. */
export async function readManifest(folder: string): Promise<Manifest> {
  const file = manifestFile(folder);
  if (!existsSync(file)) throw new Error(`${folder} is not a whole backup: it has no manifest.json.`);
  const manifest = parseManifest(file);
  for (const table of manifest.tables) {
    const copy = path.join(folder, table.file);
    if (!existsSync(copy)) throw new Error(`The backup is damaged: ${copy} is missing.`);
    if ((await sha256Of(copy)) !== table.sha256)
      throw new Error(`The backup is damaged: ${copy} is not as it was written.`);
  }
  return manifest;
}

function parseManifest(file: string): Manifest {
  const damaged = `The backup is damaged: ${file} was cut short or changed, and cannot be read. Use another backup.`;
  let content: unknown;
  try {
    content = JSON.parse(readFileSync(file, 'utf8'));
  } catch (cause) {
    throw new Error(damaged, { cause });
  }
  const { format, release } = (content ?? {}) as Partial<Manifest>;
  if (typeof format === 'number' && format > 1) {
    throw new Error(
      `${path.dirname(file)} was written by a newer Huelot (${release}); restore it with that one.`,
    );
  }
  const { success, data, error } = Manifest.safeParse(content);
  if (!success) throw new Error(damaged, { cause: error });
  return data;
}

export async function sha256Of(file: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(file), hash);
  return hash.digest('hex');
}
