import { expect, it } from 'vitest';
import { posed, readPreview } from './preview-mesh.ts';

/** Two triangles, one behind the other along y, the nearer one at smaller y. */
function sample(): ArrayBuffer {
  const bytes = new ArrayBuffer(8 + 6 * 12 + 2 * 12);
  const view = new DataView(bytes);
  view.setUint32(0, 6, true);
  view.setUint32(4, 2, true);
  const points = [0, 0, 0, 10, 0, 0, 0, 0, 10, 0, 20, 0, 10, 20, 0, 0, 20, 10];
  points.forEach((value, index) => view.setFloat32(8 + 4 * index, value, true));
  [0, 1, 2, 3, 4, 5].forEach((value, index) => view.setUint32(8 + 72 + 4 * index, value, true));
  return bytes;
}

it('reads points and corners, centred in a ball of radius 1', () => {
  const { points, corners } = readPreview(sample());
  expect([...corners]).toEqual([0, 1, 2, 3, 4, 5]);
  const reach = Array.from({ length: 6 }, (_, index) =>
    Math.hypot(...points.slice(3 * index, 3 * index + 3)),
  );
  expect(Math.max(...reach)).toBeCloseTo(1, 6);
  expect([points[1], points[10]].map((y) => Math.sign(y ?? 0))).toEqual([-1, 1]);
});

it('paints from back to front, however the model is turned', () => {
  const mesh = readPreview(sample());
  for (const yaw of [0, 1, 2, Math.PI, 5]) {
    const facets = posed(mesh, { yaw, pitch: 0.4 });
    const depths = facets.map(({ depth }) => depth);
    expect([...depths].sort((a, b) => a - b)).toEqual(depths);
    for (const { light } of facets) {
      expect(light).toBeGreaterThanOrEqual(0.25);
      expect(light).toBeLessThanOrEqual(1);
    }
  }
});

it('shows what points up as up, and a half turn puts the far one in front', () => {
  const mesh = readPreview(sample());
  const top = (yaw: number) => posed(mesh, { yaw, pitch: 0 }).at(-1)?.corners;
  const [, y1, , , , y3] = top(0) ?? [];
  expect(y3).toBeGreaterThan(y1 ?? NaN);
  expect(posed(mesh, { yaw: 0, pitch: 0 }).at(-1)?.corners[0]).toBeLessThan(0);
  expect(posed(mesh, { yaw: Math.PI, pitch: 0 }).at(-1)?.corners[0]).toBeGreaterThan(0);
});

/** A long box, whose large sides reach from its front to its back; `turn` makes it inside out. */
function box(turn: boolean): ArrayBuffer {
  const sides = [0, 2, 3, 1, 4, 5, 7, 6, 0, 1, 5, 4, 2, 6, 7, 3, 0, 4, 6, 2, 1, 3, 7, 5];
  const corners = Array.from({ length: 6 }, (_, side) => {
    const [a = 0, b = 0, c = 0, d = 0] = sides.slice(4 * side, 4 * side + 4);
    return turn ? [a, c, b, a, d, c] : [a, b, c, a, c, d];
  }).flat();
  const bytes = new ArrayBuffer(8 + 8 * 12 + 12 * 12);
  const view = new DataView(bytes);
  view.setUint32(0, 8, true);
  view.setUint32(4, 12, true);
  for (let bits = 0; bits < 8; bits += 1) {
    [bits & 1 ? 20 : 0, bits & 2 ? 15 : 0, bits & 4 ? 5 : 0].forEach((value, axis) =>
      view.setFloat32(8 + 12 * bits + 4 * axis, value, true),
    );
  }
  corners.forEach((corner, index) => view.setUint32(8 + 96 + 4 * index, corner, true));
  return bytes;
}

it.each([false, true])('paints the far sides of a box first, inside out: %s', (turn) => {
  const mesh = readPreview(box(turn));
  expect(mesh.outward).toBe(turn ? -1 : 1);
  for (const yaw of [0.6, 1.9, 3.3, 5.1]) {
    const facing = posed(mesh, { yaw, pitch: 0.45 }).map((facet) => facet.facing);
    // Three sides of a box are seen from any corner, and nothing is painted over them.
    expect(facing).toEqual([...Array<boolean>(6).fill(false), ...Array<boolean>(6).fill(true)]);
  }
});
