import { expect, it } from 'vitest';
import { posed, readPreview } from './preview-mesh.ts';

/** Two triangles, one behind the other along y, the nearer one at smaller y. */
function sample(): ArrayBuffer {
  const bytes = new ArrayBuffer(8 + 6 * 12 + 2 * 12);
  const view = new DataView(bytes);
  view.setUint32(0, 6, true);
  view.setUint32(4, 2, true);
  const points = [0, 0, 0, 10, 0, 0, 0, 0, 10, 0, 20, 0, 10, 20, 0, 0, 20, 10];
  points.forEach((value, at) => view.setFloat32(8 + 4 * at, value, true));
  [0, 1, 2, 3, 4, 5].forEach((value, at) => view.setUint32(8 + 72 + 4 * at, value, true));
  return bytes;
}

it('reads points and corners, centred in a ball of radius 1', () => {
  const { points, corners } = readPreview(sample());
  expect([...corners]).toEqual([0, 1, 2, 3, 4, 5]);
  const reach = Array.from({ length: 6 }, (_, at) => Math.hypot(...points.slice(3 * at, 3 * at + 3)));
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
