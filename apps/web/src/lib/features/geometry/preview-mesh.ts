/** A mesh to look at, centred and sized so that it fits into a ball of radius 1 whichever way it is turned. */
export interface PreviewMesh {
  /** x, y and z of each point. */
  points: Float32Array;
  /** Three points a triangle. */
  corners: Uint32Array;
  /** 1 where facets turn outwards, -1 in a file that is inside out. */
  outward: 1 | -1;
}

/**
 * Reads the preview of a measurement. Little endian: point count, triangle count, points, corners.
 *
 * @example
 * const mesh = readPreview(await apiBytes(getMeasurementPreview, { params: { id } }));
 */
export function readPreview(bytes: ArrayBuffer): PreviewMesh {
  const view = new DataView(bytes);
  const [pointCount, triangleCount] = [view.getUint32(0, true), view.getUint32(4, true)];
  const points = new Float32Array(bytes, 8, 3 * pointCount);
  const corners = new Uint32Array(bytes, 8 + 12 * pointCount, 3 * triangleCount);
  return { points: centred(points), corners, outward: signedVolume(points, corners) < 0 ? -1 : 1 };
}

/** Six times the volume, negative for a surface seen from inside. */
function signedVolume(points: Float32Array, corners: Uint32Array): number {
  let sum = 0;
  for (let at = 0; at < corners.length; at += 3) {
    const [a, b, c] = [0, 1, 2].map((nth) => {
      const from = 3 * (corners[at + nth] ?? 0);
      return [points[from] ?? 0, points[from + 1] ?? 0, points[from + 2] ?? 0] as const;
    });
    if (!a || !b || !c) continue;
    sum +=
      a[0] * (b[1] * c[2] - b[2] * c[1]) +
      a[1] * (b[2] * c[0] - b[0] * c[2]) +
      a[2] * (b[0] * c[1] - b[1] * c[0]);
  }
  return sum;
}

function centred(points: Float32Array): Float32Array {
  const centre = [0, 1, 2].map((axis) => {
    const along = points.filter((_, index) => index % 3 === axis);
    let [least, most] = [Infinity, -Infinity];
    for (const value of along) {
      least = Math.min(least, value);
      most = Math.max(most, value);
    }
    return (least + most) / 2;
  });
  const moved = points.map((value, index) => value - (centre[index % 3] ?? 0));
  let reach = 0;
  for (let at = 0; at < moved.length; at += 3) {
    reach = Math.max(reach, Math.hypot(moved[at] ?? 0, moved[at + 1] ?? 0, moved[at + 2] ?? 0));
  }
  return reach > 0 ? moved.map((value) => value / reach) : moved;
}

/** How the model is turned: about its upright axis, and towards the viewer; radians. */
export interface Pose {
  yaw: number;
  pitch: number;
}

/** A triangle on the screen: six coordinates from -1 to 1, and how bright it is from 0 to 1. */
export interface Facet {
  corners: [number, number, number, number, number, number];
  light: number;
  depth: number;
  /** Turned towards the viewer. */
  facing: boolean;
}

/** The light comes over the viewer's left shoulder. */
const LIGHT = [-0.45, 0.55, 0.7] as const;

/**
 * Turns the mesh and sorts its triangles to be painted one over the other: those turned away first, for a large one would
 * cover its front by depth alone, then each from back to front.
 */
export function posed({ points, corners, outward }: PreviewMesh, { yaw, pitch }: Pose): Facet[] {
  const [cy, sy, cp, sp] = [Math.cos(yaw), Math.sin(yaw), Math.cos(pitch), Math.sin(pitch)];
  const turned = new Float32Array(points.length);
  for (let at = 0; at < points.length; at += 3) {
    const [x, y, z] = [points[at] ?? 0, points[at + 1] ?? 0, points[at + 2] ?? 0];
    const [across, away] = [x * cy - y * sy, x * sy + y * cy];
    turned[at] = across;
    turned[at + 1] = z * cp + away * sp;
    turned[at + 2] = z * sp - away * cp;
  }
  const facets: Facet[] = [];
  for (let at = 0; at < corners.length; at += 3) {
    const [a, b, c] = [3 * (corners[at] ?? 0), 3 * (corners[at + 1] ?? 0), 3 * (corners[at + 2] ?? 0)];
    facets.push(facetOf(turned, [a, b, c], outward));
  }
  return facets.sort((one, other) => Number(one.facing) - Number(other.facing) || one.depth - other.depth);
}

function facetOf(p: Float32Array, [a, b, c]: [number, number, number], outward: 1 | -1): Facet {
  const at = (i: number) => p[i] ?? 0;
  const [ux, uy, uz] = [at(b) - at(a), at(b + 1) - at(a + 1), at(b + 2) - at(a + 2)];
  const [vx, vy, vz] = [at(c) - at(a), at(c + 1) - at(a + 1), at(c + 2) - at(a + 2)];
  const [nx, ny, nz] = [uy * vz - uz * vy, uz * vx - ux * vz, ux * vy - uy * vx];
  const length = Math.hypot(nx, ny, nz) || 1;
  // A surface seen from its wrong side is lit all the same: open and inside-out files have to be seen too.
  const light = (nx * LIGHT[0] + ny * LIGHT[1] + nz * LIGHT[2]) / length;
  return {
    corners: [at(a), at(a + 1), at(b), at(b + 1), at(c), at(c + 1)],
    light: Math.min(1, 0.25 + 0.75 * Math.abs(light)),
    depth: at(a + 2) + at(b + 2) + at(c + 2),
    facing: nz * outward > 0,
  };
}
