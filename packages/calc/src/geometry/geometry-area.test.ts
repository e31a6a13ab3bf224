import fc from 'fast-check';
import { expect, it } from 'vitest';
import type { CalcError } from '../errors.ts';
import { geometryArea, type PartGeometry } from './geometry-area.ts';
import { partArea } from './part-area.ts';

const smooth = { maskedMm2: 0, contactMm2: 0, roughnessFactor: 1 };
const typed = { kind: 'typed', areaMm2: 1700, electricalAreaMm2: null, volumeMm3: null, ...smooth } as const;
const mesh = { kind: 'mesh', areaMm2: 1700, shadowedMm2: 0, volumeMm3: 3000, ...smooth } as const;

it('takes a typed area whole unless told what current reaches', () => {
  expect(geometryArea(typed)).toEqual({
    areaMm2: 1700,
    electricalAreaMm2: 1700,
    coatedAreaMm2: 1700,
    volumeMm3: null,
    massKg: null,
  });
  expect(geometryArea({ ...typed, electricalAreaMm2: 1500 }).electricalAreaMm2).toBe(1500);
});

it('weighs what has a volume and a density', () => {
  expect(geometryArea(mesh, { densityKgPerM3: 4510 }).massKg).toBeCloseTo(0.01353, 12);
  expect(geometryArea({ ...mesh, volumeMm3: null }, { densityKgPerM3: 4510 }).massKg).toBeNull();
});

it('leaves shapes to partArea', () => {
  const features = [{ shape: { kind: 'plate', lengthMm: 20, widthMm: 30, thicknessMm: 5 } }] as const;
  const of = { features, joints: [], maskedMm2: 100, contactMm2: 10, roughnessFactor: 1.2 };
  const { areaMm2, coatedAreaMm2, electricalAreaMm2 } = partArea(of);
  expect(geometryArea({ kind: 'shapes', ...of })).toMatchObject({
    areaMm2,
    coatedAreaMm2,
    electricalAreaMm2,
  });
});

it('is one rule: a plate typed, built and measured has the same areas', () => {
  const area = fc.record({
    maskedMm2: fc.double({ min: 0, max: 800, noNaN: true }),
    contactMm2: fc.double({ min: 0, max: 800, noNaN: true }),
    roughnessFactor: fc.double({ min: 1, max: 10, noNaN: true }),
  });
  const ways: PartGeometry[] = [
    typed,
    mesh,
    {
      kind: 'shapes',
      features: [{ shape: { kind: 'plate', lengthMm: 20, widthMm: 30, thicknessMm: 5 } }],
      joints: [],
      ...smooth,
    },
  ];
  fc.assert(
    fc.property(area, (coverage) => {
      const [one, two, three] = ways.map((way) => geometryArea({ ...way, ...coverage }));
      for (const key of ['areaMm2', 'electricalAreaMm2', 'coatedAreaMm2'] as const) {
        expect(two?.[key]).toBeCloseTo(one?.[key] ?? NaN, 6);
        expect(three?.[key]).toBeCloseTo(one?.[key] ?? NaN, 6);
      }
    }),
  );
});

it.each([
  [{ ...typed, areaMm2: 0 }, 'areaMm2'],
  [{ ...typed, electricalAreaMm2: 1701 }, 'electricalAreaMm2'],
  [{ ...typed, maskedMm2: 1701 }, 'maskedMm2'],
  [{ ...typed, maskedMm2: 1000, contactMm2: 701 }, 'maskedMm2'],
  [{ ...typed, roughnessFactor: 0.9 }, 'roughnessFactor'],
  [{ ...mesh, shadowedMm2: 1701 }, 'shadowedMm2'],
  [{ ...mesh, shadowedMm2: NaN }, 'shadowedMm2'],
])('%j is refused, naming %s', (geometry, argument) => {
  expect(() => geometryArea(geometry)).toThrow(expect.objectContaining({ argument }) as CalcError);
});
