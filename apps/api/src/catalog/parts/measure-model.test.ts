import { expect, test } from 'vitest';
import { binaryStl, boxFacets, sheetFacets, textStl, turned } from '../../../../../tests/support/models.ts';
import { cylinderStep } from '../../../../../tests/support/step-models.ts';
import { measureModel, type ModelKind } from './measure-model.ts';
import { measureInThread } from './measure-thread.ts';
import { ModelFault } from './model-fault.ts';
import { previewTriangles } from './preview.ts';

const measure = (kind: ModelKind, content: Buffer | string) =>
  measureModel({ kind, bytes: new Uint8Array(Buffer.from(content)), onProgress: () => undefined });
const box = boxFacets(20, 30, 5);
const boxArea = 2 * (20 * 30 + 30 * 5 + 20 * 5);

test.each([
  ['binary', binaryStl(box)],
  ['binary, though its header says solid', binaryStl(box, 'solid box')],
  ['text', textStl(box)],
])('a box in %s STL has the area, volume and box of a box', async (_, content) => {
  const { result } = await measure('stl', content);
  expect(result.area).toBeCloseTo(boxArea, 9);
  expect(result.volume).toBeCloseTo(3000, 9);
  expect(result).toMatchObject({ size: { x: 20, y: 30, z: 5 }, facets: 12, closed: true, warnings: [] });
});

test('a surface seen from inside keeps its area and says so', async () => {
  const { result } = await measure('stl', binaryStl(turned(box)));
  expect(result.area).toBeCloseTo(boxArea, 9);
  expect(result.insideOut).toBe(true);
  expect(result.warnings.join()).toContain('inwards');
});

test('a box without a facet is open: no volume, and words about it', async () => {
  const { result } = await measure('stl', binaryStl(box.slice(1)));
  expect(result).toMatchObject({ closed: false, openEdges: 3, volume: null });
  expect(result.warnings.join()).toContain('open');
});

test.each([
  ['cut short', binaryStl(box).subarray(0, 400), 'cut short'],
  ['with a count that lies', binaryStl(box).fill(0xff, 80, 84), 'facets it states'],
  ['without facets', binaryStl([]), 'without facets'],
  ['with a corner that is no number', binaryStl(box).fill(0xff, 96, 100), 'finite'],
  ['with text that breaks off', textStl(box).slice(0, 300), 'after 3 whole facets'],
  [
    'with all corners on one point',
    binaryStl([
      [
        [1, 1, 1],
        [1, 1, 1],
        [1, 1, 1],
      ],
    ]),
    'area',
  ],
])('an STL %s is refused in words', async (_, content, words) => {
  const failed = measure('stl', content);
  await expect(failed).rejects.toBeInstanceOf(ModelFault);
  await expect(failed).rejects.toThrow(words);
});

test.each([
  { unit: 'mm', radius: 10, height: 25, mm: 1 },
  { unit: 'inch', radius: 0.5, height: 2, mm: 25.4 },
] as const)(
  'a cylinder in STEP in $unit is measured in mm to 0.1 %',
  async ({ unit, radius, height, mm }) => {
    const { result } = await measure('step', cylinderStep({ radius, height, unit }));
    const [r, h] = [radius * mm, height * mm];
    // Facets cut the round: the area comes short, by less than a thousandth.
    expect(result.area / (2 * Math.PI * r * (r + h))).toBeGreaterThan(0.999);
    expect(result.area / (2 * Math.PI * r * (r + h))).toBeLessThanOrEqual(1);
    expect((result.volume ?? 0) / (Math.PI * r * r * h)).toBeCloseTo(1, 2);
    expect(result.size.z).toBeCloseTo(h, 6);
    expect(result).toMatchObject({ closed: true, bodies: 1 });
  },
);

const cylinder = cylinderStep({ radius: 10, height: 25, unit: 'mm' });
test.each([
  ['that is none', 'solid box', 'not a STEP file'],
  ['cut short', cylinder.slice(0, 2000), 'cut short'],
  [
    'without a surface',
    cylinder.replace(/MANIFOLD_SOLID_BREP\('',#\d+\)/, "CARTESIAN_POINT('',(0.,0.,0.))"),
    'STEP file',
  ],
  ['of nonsense', 'ISO-10303-21;\nHEADER;\nnonsense\nEND-ISO-10303-21;', 'STEP file'],
])('a STEP file %s is refused in words', async (_, content, words) => {
  const failed = measure('step', content);
  await expect(failed).rejects.toBeInstanceOf(ModelFault);
  await expect(failed).rejects.toThrow(words);
});

test('the preview of a large mesh is small, and of a small one exact', async () => {
  const points = (bytes: Uint8Array) => new DataView(bytes.buffer).getUint32(0, true);
  const triangles = (bytes: Uint8Array) => new DataView(bytes.buffer).getUint32(4, true);
  const small = (await measure('stl', binaryStl(box))).preview;
  expect([points(small), triangles(small), small.length]).toEqual([8, 12, 8 + 8 * 12 + 12 * 12]);
  const large = (await measure('stl', binaryStl(sheetFacets(100, 50)))).preview;
  expect(triangles(large)).toBeLessThanOrEqual(previewTriangles);
  expect(triangles(large)).toBeGreaterThan(previewTriangles / 10);
  const corners = new Uint32Array(large.buffer.slice(8 + 12 * points(large)));
  expect(Math.max(...corners)).toBeLessThan(points(large));
});

test('the thread measures what the function measures, and says how far it is', async () => {
  const thread = measureInThread({ kind: 'stl', bytes: Uint8Array.from(binaryStl(box)) });
  expect(thread.progress()).toBe(0);
  expect((await thread.finished).result.area).toBeCloseTo(boxArea, 9);
  expect(thread.progress()).toBe(0.9);
});

test('the thread ends at its bounds of time and memory, in words', async () => {
  const task = () => ({ kind: 'stl' as const, bytes: manyFacets(600_000) });
  await expect(measureInThread(task(), { seconds: 0, bytes: 1e12 }).finished).rejects.toThrow('took longer');
  await expect(measureInThread(task(), { seconds: 1e6, bytes: 1 }).finished).rejects.toThrow('of memory');
});

/** A model that takes far longer to measure than its bounds are looked at: no two of its corners are one point. */
function manyFacets(facets: number): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(84 + 50 * facets);
  const view = new DataView(bytes.buffer);
  view.setUint32(80, facets, true);
  for (let corner = 0; corner < 9 * facets; corner++) {
    const at = 96 + 50 * Math.floor(corner / 9) + 4 * (corner % 9);
    view.setFloat32(at, (corner * 0.6180339887) % 100, true);
  }
  return bytes;
}
