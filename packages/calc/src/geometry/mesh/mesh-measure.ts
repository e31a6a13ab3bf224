import { checkNumber } from '../../check.ts';
import { CalcError } from '../../errors.ts';
import { countEdges, placesOf } from './edges.ts';
import { dropRepeatedFacets } from './repeated-facets.ts';
import { MOST_FACETS, type Triangles } from './triangles.ts';
import { Groups, sameCorners, type Vertices, weld } from './weld.ts';

type Point = readonly [x: number, y: number, z: number];

export interface MeshMeasure {
  areaMm2: number;
  /** Null where there is none: an open surface, or facets that face both ways. */
  volumeMm3: number | null;
  bounds: { minMm: Point; maxMm: Point; sizeMm: Point };
  /** No edge is without a partner. */
  closed: boolean;
  /** Closed, and all facets face the wrong side; the volume is given without its sign. */
  insideOut: boolean;
  /** Facets that were left out because two of their corners are one point. */
  skipped: number;
  /** Facets that repeat another, corner for corner; each surface is measured once. */
  repeated: number;
  /** Facets that were measured. */
  facets: number;
  openEdges: number;
  /** Edges whose facets face opposite sides. */
  flippedEdges: number;
  /** Pieces that touch nowhere. */
  bodies: number;
  flags: string[];
}

/** Points this close, as a share of the diagonal of the box, count as one when edges are paired. */
const WELD_SHARE = 1e-6;

/**
 * Area, volume and soundness of a triangulated surface.
 *
 * Area is the sum over the facets, volume the sum of signed tetrahedra. Corners that lie within a millionth of the
 * diagonal of the box are taken as one point, but only to decide whether the surface is closed: the area and the volume
 * are those of the coordinates as given. A volume is reported only where it is defined.
 *
 * A facetted round surface has less area than the true one: a cylinder of n sides by sin(pi/n)/(pi/n). Surfaces that lie
 * inside another body (cavities, parts that touch) count as wetted. A surface that is stored twice counts once and is
 * flagged; one that is open is measured on one side only, which is flagged too, since a sheet is wet on both.
 *
 * `millimetresPerUnit` is the unit of the coordinates (25.4 for inches), 1 when left out. Up to 10 million facets.
 * Source: vector geometry. Errors: `malformed` when the list is not whole facets, `not-finite` for a coordinate that is
 * no number, `impossible` when no facet has an area, `out-of-range` for the unit or too many facets.
 *
 * @example
 * const corner = [0, 0, 0, 0, 10, 0, 10, 0, 0, 0, 0, 0, 10, 0, 0, 0, 0, 10, 0, 0, 0, 0, 0, 10, 0, 10, 0];
 * const slope = [10, 0, 0, 0, 10, 0, 0, 0, 10];
 * meshMeasure({ coordinates: new Float64Array([...corner, ...slope]) })
 * // { areaMm2: 236.602540, volumeMm3: 166.666667, closed: true, insideOut: false, skipped: 0, repeated: 0, bodies: 1 }
 */
export function meshMeasure(
  triangles: Triangles,
  options: { millimetresPerUnit?: number } = {},
): MeshMeasure {
  const unit = checkNumber('millimetresPerUnit', options.millimetresPerUnit ?? 1, { above: 0, max: 1e6 });
  checkTriangles(triangles);
  const vertices = sameCorners(triangles);
  const repeated = dropRepeatedFacets(vertices.ids, vertices.corners.length);
  const { areaMm2, volumeMm3, min, max, leftOut } = sums(triangles, vertices.ids);
  const skipped = leftOut - repeated;
  const facets = triangles.coordinates.length / 9 - leftOut;
  if (!(areaMm2 > 0)) {
    const allowed = 'at least one facet with an area';
    throw new CalcError({
      code: 'impossible',
      argument: 'coordinates',
      given: `${facets} facets without area`,
      allowed,
    });
  }
  const { open, flipped, bodies } = soundness(triangles, vertices, distance(min, max) * WELD_SHARE);

  const closed = open === 0;
  const hasVolume = closed && flipped === 0;
  const scaled = (point: Point): Point => [point[0] * unit, point[1] * unit, point[2] * unit];
  const insideOut = hasVolume && volumeMm3 < 0;
  return {
    areaMm2: areaMm2 * unit ** 2,
    volumeMm3: hasVolume ? Math.abs(volumeMm3) * unit ** 3 : null,
    bounds: {
      minMm: scaled(min),
      maxMm: scaled(max),
      sizeMm: scaled([max[0] - min[0], max[1] - min[1], max[2] - min[2]]),
    },
    closed,
    insideOut,
    skipped,
    repeated,
    facets,
    openEdges: open,
    flippedEdges: flipped,
    bodies,
    flags: flagsOf({ open, flipped, skipped, repeated, bodies, insideOut }),
  };
}

function checkTriangles({ coordinates }: Triangles): void {
  const { length } = coordinates;
  if (length === 0 || length % 9 !== 0) {
    const allowed = 'nine coordinates for each facet, one facet at least';
    throw new CalcError({ code: 'malformed', argument: 'coordinates', given: `${length} numbers`, allowed });
  }
  if (length / 9 > MOST_FACETS) {
    const allowed = `at most ${MOST_FACETS} facets`;
    throw new CalcError({
      code: 'out-of-range',
      argument: 'coordinates',
      given: `${length / 9} facets`,
      allowed,
    });
  }
  for (let i = 0; i < length; i++) {
    const value = coordinates[i] ?? 0;
    if (value - value !== 0) checkNumber(`coordinates[${i}]`, value);
  }
}

/** Area, signed volume about the first corner, box, and the facets left out. */
function sums({ coordinates }: Triangles, ids: Int32Array) {
  const at = (i: number): number => coordinates[i] ?? 0;
  const min: [number, number, number] = [Infinity, Infinity, Infinity];
  const max: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  // Volumes of tetrahedra about a far origin would cancel to a few figures.
  const [ox, oy, oz] = [at(0), at(1), at(2)];
  let [doubleArea, sixVolumes, leftOut] = [0, 0, 0];
  for (let corner = 0; corner < ids.length; corner += 3) {
    const [a, b, c] = [ids[corner], ids[corner + 1], ids[corner + 2]];
    if (a === b || b === c || c === a) {
      leftOut++;
      continue;
    }
    const i = 3 * corner;
    const [ax, ay, az] = [at(i) - ox, at(i + 1) - oy, at(i + 2) - oz];
    const [ux, uy, uz] = [at(i + 3) - at(i), at(i + 4) - at(i + 1), at(i + 5) - at(i + 2)];
    const [vx, vy, vz] = [at(i + 6) - at(i), at(i + 7) - at(i + 1), at(i + 8) - at(i + 2)];
    const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
    doubleArea += Math.sqrt(nx * nx + ny * ny + nz * nz);
    sixVolumes += ax * nx + ay * ny + az * nz;
    for (let k = 0; k < 9; k++) {
      const axis = (k % 3) as 0 | 1 | 2;
      const value = at(i + k);
      if (value < min[axis]) min[axis] = value;
      if (value > max[axis]) max[axis] = value;
    }
  }
  return { areaMm2: doubleArea / 2, volumeMm3: sixVolumes / 6, min, max, leftOut };
}

function soundness(mesh: Triangles, vertices: Vertices, withinMm: number) {
  const { ids, corners } = vertices;
  const exact = countEdges(ids, corners.length);
  if (exact.open + exact.flipped === 0)
    return { ...exact, bodies: countBodies(ids, new Groups(corners.length)) };
  const groups = weld({ mesh, vertices, loose: placesOf(exact.isLoose), withinMm });
  const { open, flipped } = countEdges(ids, corners.length, groups.labels());
  return { open, flipped, bodies: countBodies(ids, groups) };
}

/** Joins the corners of every measured facet and counts what is left apart. */
function countBodies(ids: Int32Array, groups: Groups): number {
  const eachFacet = (visit: (a: number, b: number, c: number) => void): void => {
    for (let corner = 0; corner < ids.length; corner += 3) {
      const [a = 0, b = 0, c = 0] = [ids[corner], ids[corner + 1], ids[corner + 2]];
      if (a !== b && b !== c && c !== a) visit(a, b, c);
    }
  };
  eachFacet((a, b, c) => {
    groups.join(a, b);
    groups.join(a, c);
  });
  const isBody = new Uint8Array(groups.size);
  let bodies = 0;
  eachFacet((a) => {
    const root = groups.of(a);
    bodies += 1 - (isBody[root] ?? 0);
    isBody[root] = 1;
  });
  return bodies;
}

function flagsOf(found: {
  open: number;
  flipped: number;
  skipped: number;
  repeated: number;
  bodies: number;
  insideOut: boolean;
}): string[] {
  const { open, flipped, skipped, repeated, bodies, insideOut } = found;
  return [
    repeated > 0 ? `${repeated} facets are stored more than once and counted once` : '',
    open > 0
      ? `the surface is open: ${open} edges have no partner, so it has no volume; one side is measured, and a sheet is wet on both`
      : '',
    flipped > 0 ? `facets face both ways along ${flipped} edges, so there is no volume` : '',
    insideOut ? 'all facets face inwards' : '',
    bodies > 1 ? `${bodies} separate bodies: surfaces inside another body count as wetted` : '',
    skipped > 0 ? `${skipped} facets with two corners on one point were left out` : '',
  ].filter(Boolean);
}

const distance = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
