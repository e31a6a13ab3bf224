import { converter } from 'culori';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { deltaE2000 } from './delta-e.ts';
import { labToSrgb, rgbFromXyz, srgbToLab, xyzFromRgb } from './srgb.ts';

const channel = fc.integer({ min: 0, max: 255 });
const anySrgb = fc.record({ r: channel, g: channel, b: channel });
const anyLab = fc.record({
  L: fc.double({ min: 0, max: 100, noNaN: true }),
  a: fc.double({ min: -120, max: 120, noNaN: true }),
  b: fc.double({ min: -120, max: 120, noNaN: true }),
});

it('the two matrices undo each other', () => {
  for (const [i, row] of Object.entries(rgbFromXyz)) {
    for (const j of ['r', 'g', 'b'] as const) {
      const product = row.X * xyzFromRgb.X[j] + row.Y * xyzFromRgb.Y[j] + row.Z * xyzFromRgb.Z[j];
      expect(product).toBeCloseTo(i === j ? 1 : 0, 14);
    }
  }
});

describe('round trip', () => {
  it('every screen colour comes back from CIELAB as it was, inside the gamut', () => {
    fc.assert(
      fc.property(anySrgb, (colour) => {
        const back = labToSrgb(srgbToLab(colour));
        expect(back).toMatchObject({ ...colour, inGamut: true });
        expect(srgbToLab(back.hex)).toEqual(srgbToLab(colour));
      }),
    );
  });
});

describe('culori, whose white point is rounded otherwise', () => {
  const toLab = converter('lab65');
  const toRgb = converter('rgb');

  it('agrees on CIELAB to 0.05 dE00', () => {
    fc.assert(
      fc.property(anySrgb, ({ r, g, b }) => {
        const theirs = toLab({ mode: 'rgb', r: r / 255, g: g / 255, b: b / 255 });
        const theirLab = { L: Math.min(100, Math.max(0, theirs.l)), a: theirs.a, b: theirs.b };
        expect(deltaE2000(srgbToLab({ r, g, b }), theirLab)).toBeLessThan(0.05);
      }),
    );
  });

  it('agrees on the screen colour to one unit, and on the gamut', () => {
    fc.assert(
      fc.property(anyLab, (lab) => {
        const ours = labToSrgb(lab);
        const theirs = toRgb({ mode: 'lab65', l: lab.L, a: lab.a, b: lab.b });
        const channels = [theirs.r, theirs.g, theirs.b];
        const clipped = channels.map((value) => 255 * Math.min(1, Math.max(0, value)));
        for (const [i, value] of [ours.r, ours.g, ours.b].entries()) {
          expect(Math.abs(value - (clipped[i] ?? NaN))).toBeLessThan(1.2);
        }
        if (channels.some((value) => value < -0.005 || value > 1.005)) expect(ours.inGamut).toBe(false);
        if (channels.every((value) => value > 0 && value < 0.995)) expect(ours.inGamut).toBe(true);
      }),
    );
  });
});

describe('particular colours', () => {
  it('white, black and grey are neutral and can be shown', () => {
    expect(labToSrgb({ L: 100, a: 0, b: 0 })).toEqual({
      r: 255,
      g: 255,
      b: 255,
      hex: '#ffffff',
      inGamut: true,
    });
    expect(labToSrgb({ L: 0, a: 0, b: 0 })).toEqual({ r: 0, g: 0, b: 0, hex: '#000000', inGamut: true });
    const { r, g, b } = labToSrgb({ L: 53.585, a: 0, b: 0 });
    expect([r, g, b]).toEqual([128, 128, 128]);
  });

  it('the green of a second-order film on niobium is too vivid for a screen, and is said to be', () => {
    expect(labToSrgb({ L: 72, a: -80, b: 20 })).toMatchObject({ r: 0, inGamut: false });
  });

  it('small channels keep their leading zeros', () => {
    expect(labToSrgb(srgbToLab({ r: 1, g: 2, b: 3 })).hex).toBe('#010203');
  });
});

describe('refusals', () => {
  it.each(['3c64ab', '#3c64a', '#3c64abff', '#3c64ag', ''])('%s is no colour', (text) => {
    expect(() => srgbToLab(text)).toThrow(expect.objectContaining({ argument: 'colour', code: 'malformed' }));
  });
  it.each([
    [{ r: 256, g: 0, b: 0 }, 'colour.r', 'out-of-range'],
    [{ r: 0, g: 0.5, b: 0 }, 'colour.g', 'out-of-range'],
    [{ r: 0, g: 0, b: NaN }, 'colour.b', 'not-finite'],
  ] as const)('%o', (colour, argument, code) => {
    expect(() => srgbToLab(colour)).toThrow(expect.objectContaining({ argument, code }));
  });
  it('a colour beyond CIELAB', () => {
    expect(() => labToSrgb({ L: 101, a: 0, b: 0 })).toThrow(expect.objectContaining({ argument: 'lab.L' }));
    expect(() => labToSrgb({ L: 50, a: NaN, b: 0 })).toThrow(expect.objectContaining({ code: 'not-finite' }));
  });
});
