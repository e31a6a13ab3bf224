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
const MAX_FACETS = 5_000_000;
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
  if (facets > MAX_FACETS) {
    throw new ModelFault(`The model comes to ${facets} facets; at most ${MAX_FACETS} are measured.`);
  }
  const coordinates = new Float64Array(9 * facets);
  let next = 0;
  for (const { attributes, index } of meshes) {
    const points = attributes.position.array;
    for (let i = 0; i < index.array.length; i += 3) {
      for (let k = 0; k < 9; k++) {
        const corner = index.array[i + Math.floor(k / 3)] ?? NaN;
        coordinates[next + k] = points[3 * corner + (k % 3)] ?? NaN;
      }
      // The reader's cutting leaves slivers with two corners on one point; the customer's file is not to blame for them.
      if (!isSliver(coordinates, next)) next += 9;
    }
  }
  return { coordinates: coordinates.subarray(0, next) };
}

/** Whether two of the three corners from `start` on are one point. */
function isSliver(coordinates: Float64Array, start: number): boolean {
  const same = (one: number, other: number) =>
    [0, 1, 2].every((axis) => coordinates[start + one + axis] === coordinates[start + other + axis]);
  return same(0, 3) || same(3, 6) || same(6, 0);
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
