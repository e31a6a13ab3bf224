import { describe, expect, it } from 'vitest';
import { labFromReadings } from './from-readings.ts';
import { labOfSpectrum } from './lab-of-spectrum.ts';
import { wavelengthsNm, weightsUnder, type Viewing } from './spectral-weights.ts';

/** Orange-red that reflects beyond 590 nm, and a blue that reflects below 490 nm. */
const edge = (from: number, isLong: boolean) => ({
  wavelengthsNm,
  reflectance: wavelengthsNm.map((nm) => (nm >= from === isLong ? 0.8 : 0.05)),
});

describe('the white of each light', () => {
  // Tristimulus values of ASTM E308-01, table 5, entered from memory and compared with the copies of public programs; sums over
  // 5 nm come as near as this.
  it.each([
    ['D65', 2, 95.047, 108.883],
    ['D50', 2, 96.422, 82.521],
    ['A', 2, 109.85, 35.585],
    ['D65', 10, 94.811, 107.304],
    ['D50', 10, 96.72, 81.427],
    ['A', 10, 111.144, 35.2],
  ] as const)('%s, %d degrees, is the published one', (...[illuminant, observerDeg, X, Z]) => {
    const { white } = weightsUnder({ illuminant, observerDeg });
    expect(Math.abs(white.X - X)).toBeLessThan(0.025);
    expect(white.Y).toBeCloseTo(100, 9);
    expect(Math.abs(white.Z - Z)).toBeLessThan(0.025);
  });

  // Chromaticities of CIE 15:2004, table T.3, from memory.
  it.each([
    ['D65', 2, 0.31272, 0.32903],
    ['D50', 2, 0.34567, 0.35851],
    ['A', 2, 0.44758, 0.40745],
    ['D65', 10, 0.31382, 0.331],
    ['D50', 10, 0.34773, 0.35952],
    ['A', 10, 0.45117, 0.40594],
  ] as const)('%s, %d degrees, has the published chromaticity', (...[illuminant, observerDeg, x, y]) => {
    const { X, Y, Z } = weightsUnder({ illuminant, observerDeg }).white;
    expect(X / (X + Y + Z)).toBeCloseTo(x, 4);
    expect(Y / (X + Y + Z)).toBeCloseTo(y, 4);
  });
});

const viewings: Viewing[] = (['D65', 'D50', 'A'] as const).flatMap((illuminant) =>
  ([2, 10] as const).map((observerDeg) => ({ illuminant, observerDeg })),
);

describe('labOfSpectrum', () => {
  it.each(viewings)('sees grey as grey under $illuminant, $observerDeg degrees', (viewing) => {
    const grey = { wavelengthsNm, reflectance: wavelengthsNm.map(() => 0.2) };
    const { L, a, b } = labOfSpectrum(grey, viewing);
    expect(L).toBeCloseTo(51.837, 3);
    expect(Math.hypot(a, b)).toBeLessThan(1e-9);
  });

  it('is what it was under D65 and 2 degrees', () => {
    const spectrum = edge(590, true);
    const { L, a, b } = labOfSpectrum(spectrum, { illuminant: 'D65', observerDeg: 2 });
    const { lab } = labFromReadings({ readings: [spectrum] });
    expect([L, a, b]).toEqual([lab.L, lab.a, lab.b]);
  });

  it('a warm light was no warmer: under A what is red is lighter and what is blue is darker', () => {
    const under = (illuminant: 'D65' | 'D50' | 'A', spectrum: ReturnType<typeof edge>) =>
      labOfSpectrum(spectrum, { illuminant, observerDeg: 2 }).L;
    for (const [from, isLong, sign] of [
      [590, true, 1],
      [490, false, -1],
    ] as const) {
      const lightness = (['D65', 'D50', 'A'] as const).map((light) => under(light, edge(from, isLong)));
      expect(Math.sign((lightness[1] ?? 0) - (lightness[0] ?? 0))).toBe(sign);
      expect(Math.sign((lightness[2] ?? 0) - (lightness[1] ?? 0))).toBe(sign);
    }
  });

  it('refuses a spectrum that leaves out what an eye sees', () => {
    const short = { wavelengthsNm: [450, 460, 470, 480], reflectance: [0.1, 0.1, 0.1, 0.1] };
    expect(() => labOfSpectrum(short, { illuminant: 'A', observerDeg: 10 })).toThrow('400 to 700');
  });

  it('refuses a light and an observer that there is no table of', () => {
    const whole = {
      wavelengthsNm: Array.from({ length: 31 }, (_, index) => 400 + 10 * index),
      reflectance: Array.from({ length: 31 }, () => 0.5),
    };
    const under = (viewing: object) => () =>
      labOfSpectrum(whole, viewing as Parameters<typeof labOfSpectrum>[1]);
    expect(under({ illuminant: 'F2', observerDeg: 2 })).toThrow('viewing.illuminant');
    expect(under({ illuminant: 'D65', observerDeg: 4 })).toThrow('2 or 10');
  });
});
