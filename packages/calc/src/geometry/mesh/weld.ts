import type { Triangles } from './triangles.ts';

/** Which corners of a mesh are one point. */
export interface Vertices {
  /** For each corner the number of its point. */
  ids: Int32Array;
  /** For each point one corner that lies on it. */
  corners: Int32Array;
}

const words = new Uint32Array(2);
const double = new Float64Array(words.buffer);

/** Spreads neighbouring coordinates over the whole table (finaliser of MurmurHash3, public domain). */
function mix(hash: number): number {
  hash = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
  hash = Math.imul(hash ^ (hash >>> 13), 0xc2b2ae35);
  return (hash ^ (hash >>> 16)) >>> 0;
}

function hashOf(x: number, y: number, z: number): number {
  double[0] = x;
  let hash = Math.imul((words[0] ?? 0) ^ Math.imul(words[1] ?? 0, 31), 73856093);
  double[0] = y;
  hash ^= Math.imul((words[0] ?? 0) ^ Math.imul(words[1] ?? 0, 31), 19349663);
  double[0] = z;
  hash ^= Math.imul((words[0] ?? 0) ^ Math.imul(words[1] ?? 0, 31), 83492791);
  return mix(hash);
}

/** The smallest power of two that is at least this; tables of such a length are addressed by a mask. */
const powerOfTwo = (least: number): number => 2 ** Math.ceil(Math.log2(Math.max(least, 2)));

/** Corners with the same three coordinates, found by a hash table of chains that never has to grow. */
export function sameCorners({ coordinates }: Triangles): Vertices {
  const count = coordinates.length / 3;
  // Sound meshes have a sixth as many points as corners; those that match nowhere have chains of one or two.
  const mask = powerOfTwo(count / 3) - 1;
  // Point numbers, one more than they are: zero ends a chain.
  const heads = new Int32Array(mask + 1);
  const nexts = new Int32Array(count);
  const ids = new Int32Array(count);
  const corners = new Int32Array(count);
  let points = 0;
  for (let corner = 0; corner < count; corner++) {
    // Adding zero makes minus zero plus zero: the two are the same place but not the same bits.
    const x = (coordinates[3 * corner] ?? 0) + 0;
    const y = (coordinates[3 * corner + 1] ?? 0) + 0;
    const z = (coordinates[3 * corner + 2] ?? 0) + 0;
    const place = hashOf(x, y, z) & mask;
    let point = (heads[place] ?? 0) - 1;
    while (point >= 0) {
      const other = 3 * (corners[point] ?? 0);
      if (coordinates[other] === x && coordinates[other + 1] === y && coordinates[other + 2] === z) break;
      point = (nexts[point] ?? 0) - 1;
    }
    if (point < 0) {
      point = points++;
      corners[point] = corner;
      nexts[point] = heads[place] ?? 0;
      heads[place] = point + 1;
    }
    ids[corner] = point;
  }
  return { ids, corners: corners.subarray(0, points) };
}

/** Sets of points that belong together. */
export class Groups {
  readonly #parent: Int32Array;

  constructor(size: number) {
    this.#parent = new Int32Array(size);
    for (let i = 0; i < size; i++) this.#parent[i] = i;
  }

  get size(): number {
    return this.#parent.length;
  }

  /** For each member the one that stands for its group, until groups are joined again. */
  labels(): Int32Array {
    for (let i = 0; i < this.#parent.length; i++) this.#parent[i] = this.of(i);
    return this.#parent;
  }

  /** The one that stands for all of its group. */
  of(member: number): number {
    let root = member;
    for (;;) {
      const parent = this.#parent[root] ?? root;
      if (parent === root) return root;
      // Halving the path keeps later look-ups short.
      const grandparent = this.#parent[parent] ?? parent;
      this.#parent[root] = grandparent;
      root = grandparent;
    }
  }

  join(a: number, b: number): void {
    const [rootA, rootB] = [this.of(a), this.of(b)];
    if (rootA !== rootB) this.#parent[Math.max(rootA, rootB)] = Math.min(rootA, rootB);
  }
}

interface Welding {
  mesh: Triangles;
  vertices: Vertices;
  /** The points to weld: those on edges that found no partner. */
  loose: Int32Array;
  withinMm: number;
}

/**
 * Joins loose points that lie within a distance of one another. Points are filed by the cube they lie in, sixteen times
 * the distance wide, so that a point seldom has to look into more cubes than its own.
 */
export function weld({ mesh: { coordinates }, vertices: { corners }, loose, withinMm }: Welding): Groups {
  const groups = new Groups(corners.length);
  const mask = powerOfTwo(loose.length / 3) - 1;
  // Chains of loose points by cube, as places in `loose` plus one. Cubes that share a chain do no harm.
  const heads = new Int32Array(mask + 1);
  const nexts = new Int32Array(loose.length);
  const cubeOf = (index: number): number => Math.floor(index / (16 * withinMm));
  const coordinate = (point: number, axis: number): number =>
    coordinates[3 * (corners[point] ?? 0) + axis] ?? 0;

  for (let place = 0; place < loose.length; place++) {
    const point = loose[place] ?? 0;
    const [x, y, z] = [coordinate(point, 0), coordinate(point, 1), coordinate(point, 2)];
    for (let i = cubeOf(x - withinMm); i <= cubeOf(x + withinMm); i++) {
      for (let j = cubeOf(y - withinMm); j <= cubeOf(y + withinMm); j++) {
        for (let k = cubeOf(z - withinMm); k <= cubeOf(z + withinMm); k++) {
          for (let other = heads[hashOf(i, j, k) & mask] ?? 0; other > 0; other = nexts[other - 1] ?? 0) {
            const neighbour = loose[other - 1] ?? 0;
            const dx = coordinate(neighbour, 0) - x;
            const dy = coordinate(neighbour, 1) - y;
            const dz = coordinate(neighbour, 2) - z;
            if (dx * dx + dy * dy + dz * dz <= withinMm * withinMm) groups.join(point, neighbour);
          }
        }
      }
    }
    const own = hashOf(cubeOf(x), cubeOf(y), cubeOf(z)) & mask;
    nexts[place] = heads[own] ?? 0;
    heads[own] = place + 1;
  }
  return groups;
}
