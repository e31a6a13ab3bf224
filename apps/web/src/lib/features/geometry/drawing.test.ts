import { SHAPES, SHAPE_KINDS, type ShapeKind } from '@huelot/calc';
import { describe, expect, it } from 'vitest';
import { drawings } from './drawings/index.ts';
import { layOut } from './drawing-layout.ts';

/** Dimensions that make sense for every shape: outer before inner, pitch before wire. */
const sample: Record<string, number> = {
  lengthMm: 60,
  widthMm: 40,
  thicknessMm: 3,
  heightMm: 24,
  spineMm: 3,
  edgeMm: 0.4,
  perimeterMm: 86,
  sectionMm2: 124,
  acrossFlatsMm: 10,
  diameterMm: 8,
  largeDiameterMm: 20,
  smallDiameterMm: 12,
  sphereRadiusMm: 25,
  meanDiameterMm: 16,
  sectionDiameterMm: 3,
  holeCount: 7,
  holeDiameterMm: 4,
  outerDiameterMm: 30,
  innerDiameterMm: 26,
  floorMm: 2,
  faceMm2: 10_000,
  pitchMm: 6,
  wireDiameterMm: 2,
  coils: 8,
  threadLengthMm: 20,
  shankLengthMm: 15,
};
const threads = { pitchMm: 1.25 };
const of = (kind: ShapeKind): Record<string, number> => {
  const threaded = ['thread', 'tappedHole', 'stud'].includes(kind);
  const all = threaded ? { ...sample, ...threads } : sample;
  return Object.fromEntries(Object.keys(SHAPES[kind].parameters).map((name) => [name, all[name] ?? NaN]));
};
const frame = { width: 460, height: 230 };

describe.each(SHAPE_KINDS)('%s', (kind) => {
  const names = Object.keys(SHAPES[kind].parameters);
  const views = drawings[kind](of(kind));

  it('is drawn, and shows only dimensions that its formula asks for', () => {
    expect(views.flatMap(({ strokes, rings }) => [...strokes, ...rings]).length).toBeGreaterThan(0);
    for (const { name } of views.flatMap(({ dimensions }) => dimensions)) expect(names).toContain(name);
  });

  it('shows every length of it', () => {
    const shown = views.flatMap(({ dimensions }) => dimensions.map(({ name }) => name));
    // Girth is no length that can be laid along a section nobody knows.
    const lengths = names.filter((name) => name.endsWith('Mm') && name !== 'perimeterMm');
    expect(shown).toEqual(expect.arrayContaining(lengths));
  });

  it('draws each dimension as long as it is', () => {
    for (const { name, from, to } of views.flatMap(({ dimensions }) => dimensions)) {
      const length = Math.hypot(to[0] - from[0], to[1] - from[1]);
      expect(length).toBeCloseTo(of(kind)[name] ?? NaN, 9);
    }
  });

  it('keeps to one scale and inside its frame', () => {
    const placed = layOut(views, frame);
    const scales = placed.flatMap(({ dimensions }, index) =>
      dimensions.map(({ line }, nth) => {
        const [x = 0, y = 0, u = 0, v = 0] = [...line.matchAll(/-?\d+\.\d+/g)].map(Number);
        const dimension = views[index]?.dimensions[nth];
        return Math.hypot(u - x, v - y) / (of(kind)[dimension?.name ?? ''] ?? NaN);
      }),
    );
    for (const scale of scales) expect(scale / (scales[0] ?? NaN)).toBeCloseTo(1, 1);
    const numbers = placed.flatMap(({ strokes }) =>
      strokes.flatMap(({ d }) =>
        [...d.matchAll(/(-?\d+\.\d+) (-?\d+\.\d+)/g)].map(([, x, y]) => [Number(x), Number(y)]),
      ),
    );
    for (const [x = NaN, y = NaN] of numbers) {
      expect(x).toBeGreaterThan(-1);
      expect(x).toBeLessThan(frame.width + 1);
      expect(y).toBeGreaterThan(-1);
      expect(y).toBeLessThan(frame.height + 1);
    }
  });
});
