import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import type { ConstantSetName } from './constant-sets.ts';
import { filmColour } from './film-colour.ts';
import { filmReflectance } from './film-reflectance.ts';

const cases = readCsv('optics/film_colours.csv').map((row) => ({
  id: row['id'],
  system: { film: row['film'] as ConstantSetName, substrate: row['metal'] as ConstantSetName },
  thicknessNm: Number(row['thickness_nm']),
  angleDeg: Number(row['angle_deg']),
  row,
}));

const channels = (hex: string) => [1, 3, 5].map((from) => Number.parseInt(hex.slice(from, from + 2), 16));

describe('film colours of a separate implementation (reference/optics/film_colours.csv)', () => {
  it.each(cases)('$id', ({ system, thicknessNm, angleDeg, row }) => {
    const colour = filmColour({ system, thicknessNm, angleDeg });
    for (const [column, place] of [
      ['R450', 14],
      ['R550', 34],
      ['R650', 54],
    ] as const) {
      expect(Math.abs((colour.reflectance[place] ?? NaN) - Number(row[column])), column).toBeLessThan(1e-6);
    }
    for (const part of ['X', 'Y', 'Z'] as const) {
      expect(Math.abs(colour.xyz[part] - Number(row[part])), part).toBeLessThan(1e-4);
    }
    for (const part of ['L', 'a', 'b'] as const) {
      expect(Math.abs(colour.lab[part] - Number(row[part])), part).toBeLessThan(1e-4);
    }
    const expected = channels(`#${row['srgb_hex']}`);
    for (const [i, channel] of channels(colour.srgb.hex).entries()) {
      expect(Math.abs(channel - (expected[i] ?? NaN))).toBeLessThanOrEqual(1);
    }
    expect(colour.inGamut).toBe(row['in_gamut'] === '1');
  });

  it.each(cases)('$id through the recursion for stacks', ({ system, thicknessNm, angleDeg }) => {
    const quick = filmColour({ system, thicknessNm, angleDeg }).reflectance;
    const layers = [{ material: system.film, thicknessNm }];
    for (const [i, value] of filmReflectance({ layers, substrate: system.substrate, angleDeg }).entries()) {
      expect(Math.abs(value - (quick[i] ?? NaN))).toBeLessThan(1e-12);
    }
  });
});
