import { CalcError, meshMeasure, readStl, type Triangles } from '@huelot/calc';
import type { FileMeasure } from '@huelot/contracts';
import { ModelFault } from './model-fault.ts';
import { previewOf } from './preview.ts';
import { readStep } from './read-step.ts';

export type ModelKind = 'stl' | 'step';

export interface Measured {
  result: FileMeasure;
  preview: Uint8Array<ArrayBuffer>;
}

/**
 * Measures the surface of a model file. `onProgress` hears how far it is, from 0 to 1. Throws a {@link ModelFault} with
 * words for the person when the file cannot be measured.
 */
export async function measureModel(options: {
  kind: ModelKind;
  bytes: Uint8Array;
  onProgress: (share: number) => void;
}): Promise<Measured> {
  const triangles = options.kind === 'step' ? await readStep(options.bytes) : readMesh(options.bytes);
  options.onProgress(0.6);
  const result = measured(triangles);
  options.onProgress(0.9);
  return { result, preview: Uint8Array.from(previewOf(triangles)) };
}

function readMesh(bytes: Uint8Array): Triangles {
  try {
    return readStl(bytes);
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw new ModelFault(
      `The STL file is broken: it has ${String(error.given)}, and should have ${error.allowed}.`,
    );
  }
}

function measured(triangles: Triangles): FileMeasure {
  try {
    const found = meshMeasure(triangles);
    const [x, y, z] = found.bounds.sizeMm;
    return {
      area: found.areaMm2,
      volume: found.volumeMm3,
      size: { x, y, z },
      facets: found.facets,
      skipped: found.skipped,
      bodies: found.bodies,
      closed: found.closed,
      openEdges: found.openEdges,
      insideOut: found.insideOut,
      warnings: found.flags,
    };
  } catch (error) {
    if (!(error instanceof CalcError)) throw error;
    throw new ModelFault(
      `The mesh cannot be measured: it has ${String(error.given)}, and needs ${error.allowed}.`,
    );
  }
}
