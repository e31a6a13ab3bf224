import type { Triangles } from '@huelot/calc';

/** What a small device still turns smoothly. */
export const previewTriangles = 4000;
const FINEST = 100_000;

interface Coarse {
  /** x, y and z of each point. */
  points: number[];
  /** Three points a triangle. */
  corners: number[];
}

/**
 * A coarse mesh to look at: points that share a cell of a grid become one, and the grid is made wider until few enough
 * triangles are left. Little endian: point count and triangle count as uint32, then float32 x y z, then uint32 corners.
 */
export function previewOf(triangles: Triangles, limit = previewTriangles): Buffer {
  let cells = triangles.coordinates.length / 9 <= limit ? FINEST : 256;
  let coarse = clustered(triangles, cells);
  while (coarse.corners.length / 3 > limit && cells > 4) {
    // The count goes with the square of the grid.
    cells = Math.floor(cells * Math.min(0.9, Math.sqrt(limit / (coarse.corners.length / 3))));
    coarse = clustered(triangles, cells);
  }
  return packed(coarse);
}

function clustered({ coordinates }: Triangles, cells: number): Coarse {
  const { min, step } = gridOver(coordinates, cells);
  const pointOfCell = new Map<number, number>();
  const sums: number[] = [];
  const counts: number[] = [];
  const pointAt = (index: number): number => {
    const [x = 0, y = 0, z = 0] = [coordinates[index], coordinates[index + 1], coordinates[index + 2]];
    const cell = (value: number, from: number) => Math.floor((value - from) / step);
    const key = (cell(x, min[0]) * (cells + 1) + cell(y, min[1])) * (cells + 1) + cell(z, min[2]);
    let point = pointOfCell.get(key);
    if (point === undefined) {
      point = counts.length;
      pointOfCell.set(key, point);
      counts.push(0);
      sums.push(0, 0, 0);
    }
    counts[point] = (counts[point] ?? 0) + 1;
    [x, y, z].forEach((value, axis) => (sums[3 * point + axis] = (sums[3 * point + axis] ?? 0) + value));
    return point;
  };
  const corners: number[] = [];
  for (let at = 0; at < coordinates.length; at += 9) {
    const [a, b, c] = [pointAt(at), pointAt(at + 3), pointAt(at + 6)];
    if (a !== b && b !== c && c !== a) corners.push(a, b, c);
  }
  return { points: sums.map((sum, index) => sum / (counts[Math.floor(index / 3)] ?? 1)), corners };
}

function gridOver(coordinates: ArrayLike<number>, cells: number) {
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let at = 0; at < coordinates.length; at += 1) {
    const axis = (at % 3) as 0 | 1 | 2;
    const value = coordinates[at] ?? 0;
    if (value < min[axis]) min[axis] = value;
    if (value > max[axis]) max[axis] = value;
  }
  const largest = Math.max(max[0] - min[0], max[1] - min[1], max[2] - min[2]);
  return { min, step: largest > 0 ? largest / cells : 1 };
}

function packed({ points, corners }: Coarse): Buffer {
  const bytes = Buffer.alloc(8 + 4 * points.length + 4 * corners.length);
  bytes.writeUInt32LE(points.length / 3, 0);
  bytes.writeUInt32LE(corners.length / 3, 4);
  points.forEach((value, index) => bytes.writeFloatLE(value, 8 + 4 * index));
  corners.forEach((point, index) => bytes.writeUInt32LE(point, 8 + 4 * (points.length + index)));
  return bytes;
}
