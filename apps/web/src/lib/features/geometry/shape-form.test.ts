import { partArea, SHAPE_KINDS, SHAPES, type Shape } from '@huelot/calc';
import { expect, it } from 'vitest';
import { asKind, canBeCut, isDrawable, shapeGroups } from './shape-form.ts';

it('offers every shape once', () => {
  const offered = shapeGroups.flatMap(({ kinds }) => kinds);
  expect([...offered].sort()).toEqual([...SHAPE_KINDS].sort());
});

it('keeps what two kinds have in common', () => {
  const capsule = asKind({ kind: 'bar', diameterMm: 8, lengthMm: 60 }, 'capsule');
  expect(capsule).toEqual({ kind: 'capsule', diameterMm: 8, lengthMm: 60 });
  expect(asKind(capsule, 'tube')).toEqual({
    kind: 'tube',
    outerDiameterMm: null,
    innerDiameterMm: null,
    lengthMm: 60,
  });
});

it('is drawn when nothing is missing', () => {
  expect(isDrawable({ kind: 'bar', diameterMm: 8, lengthMm: null })).toBe(false);
  expect(isDrawable({ kind: 'bar', diameterMm: 8, lengthMm: 60 })).toBe(true);
  expect(isDrawable({ kind: 'cloud' })).toBe(false);
});

it.each(SHAPE_KINDS)('knows whether %s can be cut out, as the calculation does', (kind) => {
  const size = {
    sectionDiameterMm: 3,
    pitchMm: 1,
    floorMm: 1,
    innerDiameterMm: 4,
    smallDiameterMm: 4,
    holeDiameterMm: 0.5,
    wireDiameterMm: 0.5,
  };
  const dimensions = Object.keys(SHAPES[kind].parameters).map((name) => [
    name,
    { sectionMm2: 20, perimeterMm: 40, ...size }[name] ?? 6,
  ]);
  const shape = { kind, ...Object.fromEntries(dimensions) } as unknown as Shape;
  const block = { kind: 'plate', lengthMm: 1000, widthMm: 1000, thicknessMm: 1000 } as const;
  const cut = () => partArea({ features: [{ shape: block }, { shape, subtract: true }] });
  if (canBeCut(kind)) expect(cut).not.toThrow();
  else expect(cut).toThrow('subtract');
});
