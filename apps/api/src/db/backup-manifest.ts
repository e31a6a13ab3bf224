import { createHash } from 'node:crypto';
import { createReadStream, existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { pipeline } from 'node:stream/promises';

/** What a backup says of itself, in the file `manifest.json` that is written last. */
export interface Manifest {
  /** Of this layout: a folder with this file and one gzipped `COPY` text file for each table. */
  format: 1;
  release: string;
  takenAt: string;
  postgresql: string;
  migrations: { name: string; checksum: string }[];
  tables: TableCopy[];
  sequences: { name: string; value: string; isCalled: boolean }[];
}

export interface TableCopy {
  name: string;
  columns: string[];
  rows: number;
  file: string;
  sha256: string;
}

export const manifestFile = (folder: string) => path.join(folder, 'manifest.json');

/** Reads a backup's manifest after checking that every file of it is there as it was written. */
export async function readManifest(folder: string): Promise<Manifest> {
  const file = manifestFile(folder);
  if (!existsSync(file)) throw new Error(`${folder} is not a whole backup: it has no manifest.json.`);
  const manifest = JSON.parse(readFileSync(file, 'utf8')) as Manifest;
  if (manifest.format !== 1) {
    throw new Error(
      `${folder} was written by a newer Huelot (${manifest.release}); restore it with that one.`,
    );
  }
  for (const table of manifest.tables) {
    const copy = path.join(folder, table.file);
    if (!existsSync(copy)) throw new Error(`The backup is damaged: ${copy} is missing.`);
    if ((await sha256Of(copy)) !== table.sha256)
      throw new Error(`The backup is damaged: ${copy} is not as it was written.`);
  }
  return manifest;
}

export async function sha256Of(file: string): Promise<string> {
  const hash = createHash('sha256');
  await pipeline(createReadStream(file), hash);
  return hash.digest('hex');
}
