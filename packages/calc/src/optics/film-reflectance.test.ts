import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { matrixMethod } from '../../reference/optics/matrix-method.ts';
import { wavelengthsNm } from '../colour/index.ts';
import type { OpticalIndex } from './constant-set.ts';
import { type FilmLayer, filmReflectance, type Polarisation } from './film-reflectance.ts';

const constant = (n: number, k = 0): OpticalIndex => ({
  n: wavelengthsNm.map(() => n),
  k: wavelengthsNm.map(() => k),
});
const GREEN = wavelengthsNm.indexOf(550);

const double = (min: number, max: number) => fc.double({ min, max, noNaN: true });
const anyDielectric = double(1, 3.5).map((n) => constant(n));
const anyIndex = fc.tuple(double(0.2, 4), double(0, 4)).map(([n, k]) => constant(n, k));
const layerOf = (material: fc.Arbitrary<OpticalIndex>): fc.Arbitrary<FilmLayer> =>
  fc.record({ material, thicknessNm: double(0, 800) });
const anyAngle = double(0, 89);
const anyPolarisation = fc.constantFrom<Polarisation>('s', 'p', 'mean');
const anyStack = fc.record({
  layers: fc.array(layerOf(anyIndex), { maxLength: 5 }),
  substrate: anyIndex,
  angleDeg: anyAngle,
  polarisation: anyPolarisation,
});

const plain = (index: FilmLayer['material']) => {
  if (typeof index === 'string') throw new Error('these tests hand over numbers');
  return { n: index.n[GREEN] ?? NaN, k: index.k[GREEN] ?? NaN };
};
const secondOpinion = (stack: {
  layers: readonly FilmLayer[];
  substrate: OpticalIndex;
  angleDeg: number;
  polarisation: 's' | 'p';
}) =>
  matrixMethod({
    ...stack,
    layers: stack.layers.map((layer) => ({ ...plain(layer.material), thicknessNm: layer.thicknessNm })),
    substrate: plain(stack.substrate),
    wavelengthNm: 550,
  });

describe('against characteristic matrices of the opposite sign convention', () => {
  // Absorbing films to a micrometre make the matrices grow like exp(kd): seven figures are left of sixteen.
  it.each(['s', 'p'] as const)('%s: any stack, any angle', (polarisation) => {
    fc.assert(
      fc.property(anyStack, (stack) => {
        const thin = stack.layers.map((layer) => ({ ...layer, thicknessNm: layer.thicknessNm / 8 }));
        const given = { ...stack, layers: thin, polarisation };
        expect(filmReflectance(given)[GREEN]).toBeCloseTo(secondOpinion(given).reflectance, 7);
      }),
    );
  });

  it('what a stack without absorption does not reflect it lets through', () => {
    const anyClearStack = fc.record({
      layers: fc.array(layerOf(anyDielectric), { maxLength: 5 }),
      substrate: anyDielectric,
      angleDeg: anyAngle,
      polarisation: fc.constantFrom('s' as const, 'p' as const),
    });
    fc.assert(
      fc.property(anyClearStack, (stack) => {
        const reflected = filmReflectance(stack)[GREEN] ?? NaN;
        expect(reflected + secondOpinion(stack).transmittance).toBeCloseTo(1, 9);
      }),
    );
  });
});

describe('properties', () => {
  it('reflectance lies between 0 and 1', () => {
    fc.assert(
      fc.property(anyStack, (stack) => {
        for (const value of filmReflectance(stack)) {
          expect(value).toBeGreaterThanOrEqual(0);
          expect(value).toBeLessThanOrEqual(1);
        }
      }),
    );
  });

  it('a layer of no thickness changes nothing', () => {
    fc.assert(
      fc.property(anyStack, anyIndex, fc.nat(5), (stack, material, index) => {
        const at = Math.min(index, stack.layers.length);
        const layers = stack.layers.toSpliced(at, 0, { material, thicknessNm: 0 });
        expectSame(filmReflectance({ ...stack, layers }), filmReflectance(stack));
      }),
    );
  });

  it('splitting a layer in two changes nothing', () => {
    fc.assert(
      fc.property(anyStack, layerOf(anyIndex), double(0, 1), (stack, layer, share) => {
        const halves = [share, 1 - share].map((part) => ({
          ...layer,
          thicknessNm: part * layer.thicknessNm,
        }));
        const whole = filmReflectance({ ...stack, layers: [layer, ...stack.layers] });
        expectSame(filmReflectance({ ...stack, layers: [...halves, ...stack.layers] }), whole);
      }),
    );
  });

  it('a film of the metal itself, or so thick that no light returns, is the metal', () => {
    fc.assert(
      fc.property(anyStack, double(0.5, 4), double(0.5, 4), (stack, n, k) => {
        const metal = constant(n, k);
        const bare = filmReflectance({ ...stack, layers: [], substrate: metal });
        expectSame(
          filmReflectance({ ...stack, layers: [{ material: metal, thicknessNm: 70 }], substrate: metal }),
          bare,
        );
        const buried = [{ material: metal, thicknessNm: 10_000 }, ...stack.layers];
        expectSame(filmReflectance({ ...stack, layers: buried }), bare);
      }),
    );
  });

  it('the mean is the mean of s and p; straight on they are the same', () => {
    fc.assert(
      fc.property(anyStack, (stack) => {
        const [s, p, mean] = (['s', 'p', 'mean'] as const).map((polarisation) =>
          filmReflectance({ ...stack, polarisation }),
        );
        expectSame(mean ?? [], s?.map((value, i) => (value + (p?.[i] ?? NaN)) / 2) ?? []);
        const straight = (polarisation: Polarisation) =>
          filmReflectance({ ...stack, angleDeg: 0, polarisation });
        expectSame(straight('s'), straight('p'));
      }),
    );
  });
});

/** Rounding of a few dozen operations. */
function expectSame(items: readonly number[], expected: readonly number[]) {
  expect(items).toHaveLength(expected.length);
  const worst = Math.max(...items.map((value, i) => Math.abs(value - (expected[i] ?? NaN))));
  expect(worst).toBeLessThan(1e-9);
}

describe('textbook cases', () => {
  const glass = constant(1.52);
  const quarterWave = (n: number) => [{ material: constant(n), thicknessNm: 550 / (4 * n) }];

  it('bare glass reflects 4.26 % (Fresnel, ((n-1)/(n+1))²)', () => {
    expect(filmReflectance({ layers: [], substrate: glass })[GREEN]).toBeCloseTo((0.52 / 2.52) ** 2, 12);
  });

  it('a quarter wave of magnesium fluoride on glass leaves 1.26 % (Macleod 2010, chapter 3)', () => {
    const left = filmReflectance({ layers: quarterWave(1.38), substrate: glass })[GREEN];
    expect(left).toBeCloseTo(((1.52 - 1.38 ** 2) / (1.52 + 1.38 ** 2)) ** 2, 12);
    expect(left).toBeCloseTo(0.0126, 4);
  });

  it('a quarter wave of the mean index leaves nothing, a half wave is not there', () => {
    expect(filmReflectance({ layers: quarterWave(Math.sqrt(1.52)), substrate: glass })[GREEN]).toBeLessThan(
      1e-15,
    );
    const halfWave = [{ material: constant(2.35), thicknessNm: 550 / (2 * 2.35) }];
    expect(filmReflectance({ layers: halfWave, substrate: glass })[GREEN]).toBeCloseTo(
      (0.52 / 2.52) ** 2,
      12,
    );
  });

  it("at Brewster's angle glass reflects no p", () => {
    const angleDeg = (Math.atan(1.52) * 180) / Math.PI;
    expect(
      filmReflectance({ layers: [], substrate: glass, angleDeg, polarisation: 'p' })[GREEN],
    ).toBeLessThan(1e-15);
  });

  it('magnetite with n 2.42 and k 0.635 reflects a fifth (what that k was made for)', () => {
    for (const value of filmReflectance({ layers: [], substrate: 'Fe3O4_estimate' })) {
      expect(value).toBeCloseTo(0.2, 6);
    }
  });

  it('pores are mixed in as effectiveIndex mixes them: all void is no film', () => {
    const layers = [{ material: 'TiO2_Franta2015' as const, thicknessNm: 80, voidFraction: 1 }];
    expectSame(
      filmReflectance({ layers, substrate: 'Ti_Johnson1974' }),
      filmReflectance({ layers: [], substrate: 'Ti_Johnson1974' }),
    );
  });
});

describe('refusals', () => {
  const film = { material: 'TiO2_Franta2015' as const, thicknessNm: 50 };
  const stack = { layers: [film], substrate: 'Ti_Johnson1974' as const };
  it.each([
    [{ ...stack, angleDeg: 90 }, 'angleDeg', 'out-of-range'],
    [{ ...stack, angleDeg: -1 }, 'angleDeg', 'out-of-range'],
    [{ ...stack, angleDeg: NaN }, 'angleDeg', 'not-finite'],
    [{ ...stack, polarisation: 'x' as 's' }, 'polarisation', 'unknown'],
    [{ ...stack, layers: [film, { ...film, thicknessNm: -1 }] }, 'layers[1].thicknessNm', 'out-of-range'],
    [{ ...stack, layers: [{ ...film, thicknessNm: Infinity }] }, 'layers[0].thicknessNm', 'not-finite'],
    [{ ...stack, layers: [{ ...film, voidFraction: 1.1 }] }, 'layers[0].voidFraction', 'out-of-range'],
    [
      { ...stack, layers: [{ ...film, material: 'TiO3' as 'TiO2_Franta2015' }] },
      'layers[0].material',
      'unknown',
    ],
    [{ ...stack, substrate: { n: [1], k: [0] } }, 'substrate.n', 'malformed'],
    [{ ...stack, substrate: constant(2, -1) }, 'substrate.k[0]', 'out-of-range'],
    [{ ...stack, substrate: constant(0) }, 'substrate.n[0]', 'out-of-range'],
    [{ ...stack, substrate: constant(NaN) }, 'substrate.n[0]', 'not-finite'],
  ] as const)('$1, $2', (input, argument, code) => {
    expect(() => filmReflectance(input)).toThrow(expect.objectContaining({ argument, code }));
  });
});
