import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cie1931Observer } from './data/cie-1931-2deg.ts';
import { illuminantD65 } from './data/illuminant-d65.ts';
import { colourFromReflectance } from './from-reflectance.ts';
import { labToLch, labToXyz, lchToLab, xyzToLab } from './lab.ts';
import { wavelengthsNm, whiteXyz } from './spectral-weights.ts';

const flat = (value: number) => wavelengthsNm.map(() => value);
const anySpectrum = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 81, maxLength: 81 });

describe('tables', () => {
  it('run from 380 to 780 nm by 5 nm', () => {
    expect([wavelengthsNm[0], wavelengthsNm[34], wavelengthsNm[80]]).toEqual([380, 550, 780]);
    for (const column of Object.values(cie1931Observer)) expect(column).toHaveLength(81);
    expect(illuminantD65).toHaveLength(81);
  });

  it('D65 is 100 at 560 nm; the eye is most sensitive at 555 nm', () => {
    expect(illuminantD65[wavelengthsNm.indexOf(560)]).toBe(100);
    expect(Math.max(...cie1931Observer.ybar)).toBe(cie1931Observer.ybar[wavelengthsNm.indexOf(555)]);
    expect(Math.max(...cie1931Observer.ybar)).toBe(1);
  });

  it('equal energy has equal tristimulus values (CIE 15:2004: the three columns have one sum)', () => {
    const sum = (values: readonly number[]) => values.reduce((total, value) => total + value, 0);
    expect(sum(cie1931Observer.xbar) / sum(cie1931Observer.ybar)).toBeCloseTo(1, 4);
    expect(sum(cie1931Observer.zbar) / sum(cie1931Observer.ybar)).toBeCloseTo(1, 4);
  });

  it('together give the white of D65: 95.042967, 100, 108.880055, x 0.3127, y 0.3290 (CIE 15:2004)', () => {
    expect(whiteXyz.X).toBeCloseTo(95.042967, 6);
    expect(whiteXyz.Y).toBeCloseTo(100, 9);
    expect(whiteXyz.Z).toBeCloseTo(108.880055, 6);
    const total = whiteXyz.X + whiteXyz.Y + whiteXyz.Z;
    expect(whiteXyz.X / total).toBeCloseTo(0.3127, 4);
    expect(whiteXyz.Y / total).toBeCloseTo(0.329, 4);
  });
});

describe('colourFromReflectance', () => {
  it('a perfect reflector is white, nothing is black, a grey is neutral', () => {
    expect(colourFromReflectance(flat(1)).lab.L).toBeCloseTo(100, 9);
    expect(colourFromReflectance(flat(0))).toMatchObject({ lab: { L: 0, a: 0, b: 0 }, inGamut: true });
    const grey = colourFromReflectance(flat(0.18));
    expect(grey.lab.L).toBeCloseTo(116 * Math.cbrt(0.18) - 16, 9);
    expect(grey.lch.C).toBeCloseTo(0, 9);
  });

  it('twice the light is twice the tristimulus values, and lights add up', () => {
    fc.assert(
      fc.property(anySpectrum, anySpectrum, (one, other) => {
        const half = (spectrum: number[]) => colourFromReflectance(spectrum.map((value) => value / 2)).xyz;
        const mixed = colourFromReflectance(one.map((value, i) => (value + (other[i] ?? NaN)) / 2)).xyz;
        for (const part of ['X', 'Y', 'Z'] as const) {
          expect(mixed[part]).toBeCloseTo(half(one)[part] + half(other)[part], 9);
          expect(colourFromReflectance(one).xyz[part]).toBeCloseTo(2 * half(one)[part], 9);
        }
      }),
    );
  });

  it('no reflector has a lightness outside 0 to 100', () => {
    fc.assert(
      fc.property(anySpectrum, (spectrum) => {
        const { lab, lch } = colourFromReflectance(spectrum);
        expect(lab.L).toBeGreaterThanOrEqual(0);
        expect(lab.L).toBeLessThanOrEqual(100 + 1e-9);
        expect(lch.h).toBeGreaterThanOrEqual(0);
        expect(lch.h).toBeLessThan(360);
        expect(lch.C).toBeCloseTo(Math.hypot(lab.a, lab.b), 9);
      }),
    );
  });

  it('takes typed arrays as well', () => {
    expect(colourFromReflectance(Float64Array.from(flat(0.5)))).toEqual(colourFromReflectance(flat(0.5)));
  });

  it.each([
    [flat(0.5).slice(1), 'reflectance', 'malformed'],
    [[...flat(0.5), 0.5], 'reflectance', 'malformed'],
    [flat(50), 'reflectance[0]', 'out-of-range'],
    [flat(0.5).with(7, -0.01), 'reflectance[7]', 'out-of-range'],
    [flat(0.5).with(80, NaN), 'reflectance[80]', 'not-finite'],
  ] as const)('refuses a wrong list, per cent and NaN: $1, $2', (reflectance, argument, code) => {
    expect(() => colourFromReflectance(reflectance)).toThrow(expect.objectContaining({ argument, code }));
  });
});

describe('CIELAB', () => {
  const anyLab = fc.record({
    L: fc.double({ min: 0, max: 100, noNaN: true }),
    a: fc.double({ min: -100, max: 100, noNaN: true }),
    b: fc.double({ min: -100, max: 100, noNaN: true }),
  });

  it('goes to XYZ and to polar form and comes back', () => {
    fc.assert(
      fc.property(anyLab, (lab) => {
        const { X, Y, Z } = labToXyz(lab);
        for (const back of [xyzToLab(X, Y, Z), lchToLab(labToLch(lab))]) {
          for (const part of ['L', 'a', 'b'] as const) expect(back[part]).toBeCloseTo(lab[part], 8);
        }
      }),
    );
  });

  it('its straight part meets the cube root without a step (216/24389, slope 24389/27)', () => {
    const { X, Z } = whiteXyz;
    const below = xyzToLab(X, 100 * (216 / 24389 - 1e-12), Z).L;
    const above = xyzToLab(X, 100 * (216 / 24389 + 1e-12), Z).L;
    expect(above - below).toBeLessThan(1e-8);
    expect(below).toBeCloseTo(8, 8);
  });
});
