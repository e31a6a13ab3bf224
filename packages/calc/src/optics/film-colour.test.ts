import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { deltaE2000 } from '../colour/index.ts';
import type { ConstantSetName } from './constant-sets.ts';
import { filmColour } from './film-colour.ts';
import { filmReflectance } from './film-reflectance.ts';
import type { System } from './resolve-system.ts';

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

describe('published colours beside the default constants (reference/optics/published_colours.csv)', () => {
  const systems: Record<string, System> = { Ti: 'titanium', 'Ti-6Al-4V': 'titanium', steel: 'steel' };
  it.each(readCsv('optics/published_colours.csv'))('$source_key: $colour_as_published', (row) => {
    const { lab } = filmColour({
      system: systems[row['metal'] ?? ''] ?? 'titanium',
      thicknessNm: Number(row['model_thickness_nm']),
    });
    const expected = { L: Number(row['model_L']), a: Number(row['model_a']), b: Number(row['model_b']) };
    // Thickness is printed to 0.1 nm, where colour moves by up to 8 dE00 a nanometre.
    expect(deltaE2000(lab, expected)).toBeLessThan(0.5);
  });
});

describe('what a film colour says of itself', () => {
  it('warns where the metal is no matter of physics, or the constants disagree', () => {
    const flagsOf = (system: System, thicknessNm = 50) => filmColour({ system, thicknessNm }).flags.join();
    expect(flagsOf('titanium')).toBe('');
    expect(flagsOf('steel')).toMatch(/by trial/);
    expect(flagsOf('aluminium')).toMatch(/dye/);
    expect(flagsOf('zirconium')).toMatch(/disagree/);
    expect(flagsOf('titanium', 400)).toBe('');
    expect(flagsOf('titanium', 401)).toMatch(/400 nm/);
  });

  it('a clear film on aluminium hardly colours it: chroma at most 8 up to 400 nm', () => {
    const chromas = Array.from(
      { length: 401 },
      (_, nm) => filmColour({ system: 'aluminium', thicknessNm: nm }).lch.C,
    );
    expect(Math.max(...chromas)).toBeLessThan(8.5);
    expect(Math.max(...chromas)).toBeGreaterThan(7);
  });

  it('without film it is the metal, whatever the oxide', () => {
    const bare = filmReflectance({ layers: [], substrate: 'Ti_Johnson1974' });
    for (const [i, value] of filmColour({ system: 'titanium', thicknessNm: 0 }).reflectance.entries()) {
      expect(value).toBeCloseTo(bare[i] ?? NaN, 12);
    }
  });

  it('is not disturbed by other films asked for in between', () => {
    const first = filmColour({ system: 'titanium', thicknessNm: 50 });
    for (let voids = 0; voids < 40; voids++) {
      filmColour({ system: 'niobium', thicknessNm: 80, voidFraction: voids / 100 });
    }
    expect(filmColour({ system: 'titanium', thicknessNm: 50 })).toEqual(first);
  });
});

describe('refusals', () => {
  const film = { system: 'titanium' as const, thicknessNm: 50 };
  it.each([
    [{ ...film, system: 'gold' as 'titanium' }, 'system', 'unknown'],
    [
      { ...film, system: { film: 'TiO2' as 'TiO2_Franta2015', substrate: 'Ti_Palm2018' } },
      'system.film',
      'unknown',
    ],
    [{ ...film, system: { film: 'Ti_Palm2018', substrate: 'Ti_Palm2018' } }, 'system.film', 'impossible'],
    [
      { ...film, system: { film: 'TiO2_Franta2015', substrate: 'ZrO2_Wood1982' } },
      'system.substrate',
      'impossible',
    ],
    [{ ...film, thicknessNm: -0.1 }, 'thicknessNm', 'out-of-range'],
    [{ ...film, thicknessNm: NaN }, 'thicknessNm', 'not-finite'],
    [{ ...film, angleDeg: 90 }, 'angleDeg', 'out-of-range'],
    [{ ...film, voidFraction: 2 }, 'voidFraction', 'out-of-range'],
  ] as const)('$1, $2', (input, argument, code) => {
    expect(() => filmColour(input)).toThrow(expect.objectContaining({ argument, code }));
  });
});
