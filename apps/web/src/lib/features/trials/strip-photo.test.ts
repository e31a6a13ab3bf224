import { deltaE2000, labToSrgb, srgbToLab } from '@huelot/calc';
import { describe, expect, it } from 'vitest';
import { colourBeside, meanAround } from './strip-photo.ts';

const picture = (colours: readonly (readonly [number, number, number])[], size = 20) => {
  const width = size * colours.length;
  const data = new Uint8ClampedArray(4 * width * size);
  for (let row = 0; row < size; row += 1)
    for (let column = 0; column < width; column += 1)
      data.set([...(colours[Math.floor(column / size)] ?? [0, 0, 0]), 255], 4 * (row * width + column));
  return { data, width, height: size };
};
const around = (index: number) => ({ x: 20 * index + 10, y: 10, radius: 6 });

describe('a colour in a picture', () => {
  it('is the mean around the click, and nothing of its neighbours', () => {
    const pixels = picture([
      [200, 100, 50],
      [0, 0, 255],
    ]);
    const [r, g, b] = meanAround(pixels, around(0));
    expect([r, g, b].map((v) => v.toFixed(3))).toEqual(['0.578', '0.127', '0.032']);
    expect(meanAround(pixels, { x: -50, y: -50, radius: 3 })).toEqual([0, 0, 0]);
  });

  it('took the light of the room for the colour of the strip', () => {
    const band = { L: 40, a: 15, b: -30 };
    const white = { L: 95, a: 0, b: 0 };
    const inLamp = (lab: typeof band) => {
      const { r, g, b } = labToSrgb(lab);
      const linear = (v: number) =>
        v / 255 <= 0.04045 ? v / 255 / 12.92 : ((v / 255 + 0.055) / 1.055) ** 2.4;
      const byte = (v: number) =>
        Math.round(255 * (v <= 0.0031308 ? 12.92 * v : 1.055 * v ** (1 / 2.4) - 0.055));
      // A warm lamp that takes away a third of the blue.
      return [byte(linear(r) * 0.9), byte(linear(g) * 0.8), byte(linear(b) * 0.6)] as const;
    };
    const pixels = picture([inLamp(white), inLamp(band)]);
    const light = meanAround(pixels, around(1));
    const found = colourBeside(light, { patch: 'white', reference: meanAround(pixels, around(0)) });
    expect(deltaE2000(found ?? white, band)).toBeLessThan(1);
    const [r, g, b] = inLamp(band);
    expect(deltaE2000(srgbToLab({ r, g, b }), band)).toBeGreaterThan(5);
  });

  it('was reckoned beside a patch that is no reference', () => {
    expect(colourBeside([0.2, 0.2, 0.2], { patch: 'grey', reference: [0.3, 0.3, 0.001] })).toBeNull();
  });
});
