import type { Triangles } from '@huelot/calc';
import { ModelFault } from './model-fault.ts';

/**
 * How finely curved faces are cut into facets: a chord leaves the true surface by at most a ten-thousandth of the box,
 * and neighbours meet at 0.1 rad or flatter. Areas of machined parts then come within a few thousandths of a per cent.
 */
const fineness = {
  linearUnit: 'millimeter',
  linearDeflectionType: 'bounding_box_ratio',
  linearDeflection: 0.0001,
  angularDeflection: 0.1,
} as const;
const MOST_FACETS = 5_000_000;
const TAIL = 4096;

/** The surface of a STEP file in millimetres, whatever unit it was drawn in: the file says, and the reader converts. */
export async function readStep(bytes: Uint8Array): Promise<Triangles> {
  refuseWhatIsNone(bytes);
  const { default: openOcct } = await import('occt-import-js');
  const occt = await openOcct({ print: () => undefined, printErr: () => undefined });
  const { success, meshes = [] } = occt.ReadStepFile(bytes, fineness);
  if (!success) throw new ModelFault('The STEP file is broken: its entities cannot be read.');
  const facets = meshes.reduce((sum, { index }) => sum + index.array.length / 3, 0);
  if (facets === 0) {
    throw new ModelFault(
      'The STEP file holds no surface: only points, curves or product data. Export the solid.',
    );
  }
  if (facets > MOST_FACETS) {
    throw new ModelFault(`The model comes to ${facets} facets; at most ${MOST_FACETS} are measured.`);
  }
  const coordinates = new Float64Array(9 * facets);
  let next = 0;
  for (const { attributes, index } of meshes) {
    const points = attributes.position.array;
    for (const corner of index.array) {
      coordinates[next] = points[3 * corner] ?? NaN;
      coordinates[next + 1] = points[3 * corner + 1] ?? NaN;
      coordinates[next + 2] = points[3 * corner + 2] ?? NaN;
      next += 3;
    }
  }
  return { coordinates };
}

/** An exchange file (ISO 10303-21) begins and ends with its name; one without an end was cut short. */
function refuseWhatIsNone(bytes: Uint8Array): void {
  const text = (part: Uint8Array) =>
    Buffer.from(part.buffer, part.byteOffset, part.byteLength).toString('latin1');
  if (!text(bytes.subarray(0, TAIL)).includes('ISO-10303-21')) {
    throw new ModelFault('This is not a STEP file: it does not begin with ISO-10303-21.');
  }
  if (!text(bytes.subarray(-TAIL)).includes('END-ISO-10303-21')) {
    throw new ModelFault('The STEP file was cut short: its end is missing. Export or send it again.');
  }
}
