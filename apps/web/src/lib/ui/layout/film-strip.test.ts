import { filmColour } from '@huelot/calc';
import { expect, it } from 'vitest';
import { filmStrip } from './film-strip.ts';

it('is what the calculation package says of titanium', () => {
  expect(filmStrip.map(({ thicknessNm }) => thicknessNm)).toEqual(
    Array.from({ length: 34 }, (_, index) => index * 5),
  );
  for (const { thicknessNm, srgb } of filmStrip) {
    const colour = filmColour({ system: 'titanium', thicknessNm });
    expect(colour.inGamut, `${thicknessNm} nm`).toBe(true);
    expect(srgb, `${thicknessNm} nm`).toBe(colour.srgb.hex);
  }
});
