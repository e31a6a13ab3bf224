import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { build } from 'esbuild';

interface MeshFigures {
  facets: number;
  openEdges: number;
  readS: number;
  totalS: number;
  cpuS: number;
  beforeMb: number;
  peakMb: number;
}

/**
 * A mesh of 1.2 million facets in a process of its own, bundled first so that no TypeScript loader adds to its memory: one
 * closed torus, and the same facets with no corner on another.
 */
export async function meshesAlone(): Promise<{ closed: MeshFigures; apart: MeshFigures }> {
  const folder = mkdtempSync(join(tmpdir(), 'huelot-bench-'));
  try {
    const outfile = join(folder, 'mesh.mjs');
    const entry = fileURLToPath(new URL('mesh.ts', import.meta.url));
    await build({ entryPoints: [entry], bundle: true, platform: 'node', format: 'esm', outfile });
    const run = (kind: string) =>
      JSON.parse(execFileSync(process.execPath, [outfile, kind], { encoding: 'utf8' })) as MeshFigures;
    return { closed: run('closed'), apart: run('apart') };
  } finally {
    rmSync(folder, { recursive: true });
  }
}
