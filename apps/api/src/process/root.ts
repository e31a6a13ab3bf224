import { existsSync } from 'node:fs';
import path from 'node:path';

/** The folder Huelot is installed in: the one that holds `prisma/migrations`, above the sources as above the build. */
export const root = findRoot(import.meta.dirname);

function findRoot(folder: string): string {
  if (existsSync(path.join(folder, 'prisma', 'migrations'))) return folder;
  const above = path.dirname(folder);
  if (above === folder)
    throw new Error(`The installation is incomplete: no prisma/migrations above ${import.meta.dirname}.`);
  return findRoot(above);
}
