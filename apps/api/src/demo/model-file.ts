import { Readable } from 'node:stream';
import type { Measurement } from '@huelot/contracts';
import type { Actor } from '../kernel/actor.ts';
import type { Db } from '../db/client.ts';
import { keepFile } from '../core/files/index.ts';
import { getMeasurement, measureFile, openMeasuring } from '../catalog/parts/index.ts';

type Box = Record<'x' | 'y' | 'z', number>;

/** Sends in a model file of a box in millimetres and has it measured, as a person does. */
export async function measureBox(
  db: Db,
  { actor, name, box }: { actor: Actor; name: string; box: Box },
): Promise<Measurement> {
  const file = await keepFile(db, { actor, name, content: Readable.from([boxStl(box)]), isCut: () => false });
  const measuring = openMeasuring(db.execute, { error: (about, words) => console.error(words, about) });
  try {
    let measurement = await measureFile(db, { actor, fileId: file.id, measuring });
    while (measurement.status === 'waiting' || measurement.status === 'running') {
      await new Promise((resolve) => setTimeout(resolve, 50));
      measurement = await getMeasurement(db, measurement.id);
    }
    if (measurement.status !== 'done') throw new Error(`${name}: ${measurement.fault}`);
    return measurement;
  } finally {
    await measuring.close();
  }
}

/** A closed box as a binary STL, the corners in millimetres. */
function boxStl({ x, y, z }: Box): Buffer {
  const corner = (index: number): [number, number, number] => [
    index & 1 ? x : 0,
    index & 2 ? y : 0,
    index & 4 ? z : 0,
  ];
  const quads = [
    [0, 2, 3, 1],
    [4, 5, 7, 6],
    [0, 1, 5, 4],
    [2, 6, 7, 3],
    [0, 4, 6, 2],
    [1, 3, 7, 5],
  ] as const;
  const triangles = quads.flatMap(
    ([a, b, c, d]) =>
      [
        [a, b, c],
        [a, c, d],
      ] as const,
  );
  const bytes = new Uint8Array(84 + 50 * triangles.length);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, triangles.length, true);
  triangles.forEach((triangle, i) => {
    triangle.forEach((index, vertex) => {
      corner(index).forEach((value, axis) =>
        view.setFloat32(84 + 50 * i + 12 + 12 * vertex + 4 * axis, value, true),
      );
    });
  });
  return Buffer.from(bytes.buffer);
}
