import { readFileSync } from 'node:fs';

/** The bytes of a mesh file of this folder. */
export const meshFile = (file: string): Uint8Array => new Uint8Array(readFileSync(new URL(file, import.meta.url)));
