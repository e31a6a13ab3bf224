import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readCsv } from '../../reference/csv.ts';
import { deltaE2000, wavelengthsNm } from '../colour/index.ts';
import { colourPathOf } from './colour-path.ts';
import { type ConstantSetName, constantSets } from './constant-sets.ts';
import { type FilmModel, filmModel } from './film-model.ts';
import { filmReflectance } from './film-reflectance.ts';
import { resolveSystem, type SystemName, systemNames } from './resolve-system.ts';
import { niobiumSystem, steelSystem, titaniumSystem } from './systems.ts';

const thicknesses = (from: number, to: number) => Array.from({ length: to - from + 1 }, (_, i) => from + i);

it('is the recursion for stacks, at any angle and porosity', () => {
  const anyFilm = fc.record({
    name: fc.constantFrom(...systemNames),
    thicknessNm: fc.double({ min: 0, max: 1000, noNaN: true }),
    angleDeg: fc.double({ min: 0, max: 89, noNaN: true }),
    voidFraction: fc.double({ min: 0, max: 1, noNaN: true }),
  });
  fc.assert(
    fc.property(anyFilm, ({ name, thicknessNm, angleDeg, voidFraction }) => {
      const { film, substrate } = resolveSystem(name);
      const quick = filmModel({ film, substrate, angleDeg, voidFraction }).colourAt(thicknessNm);
      const layers = [{ material: film, thicknessNm, voidFraction }];
      for (const [i, value] of filmReflectance({ layers, substrate, angleDeg }).entries()) {
        expect(Math.abs((quick.reflectance[i] ?? NaN) - value)).toBeLessThan(1e-10);
      }
    }),
  );
});

describe('how far the colour moves with another source or angle (reference/optics/known_limits.csv)', () => {
  it.each(readCsv('optics/known_limits.csv'))('$case', (row) => {
    const set = (column: string) => constantSets[row[column] as ConstantSetName];
    const before = filmModel({ film: set('film'), substrate: set('metal') });
    const angleDeg = Number(row['angle_deg']);
    const after = filmModel({ film: set('film_changed'), substrate: set('metal_changed'), angleDeg });
    const step = Number(row['step_nm']);
    const moved = thicknesses(0, 300 / step).map((i) =>
      deltaE2000(before.labAt(step * i), after.labAt(Number(row['thickness_scale']) * step * i)),
    );
    const mean = moved.reduce((total, value) => total + value, 0) / moved.length;
    for (const [value, expected] of [
      [mean, Number(row['mean'])],
      [Math.max(...moved), Number(row['max'])],
    ] as const) {
      // Half a unit of the last printed digit; a whole one where the sampling is not known.
      const tolerance = angleDeg > 0 ? 1 : expected < 10 ? 0.06 : 0.5;
      expect(Math.abs(value - expected)).toBeLessThan(tolerance);
    }
  });

  it.each([
    ['titanium', titaniumSystem, 6.5],
    ['niobium', niobiumSystem, 8.4],
  ] as const)('%s: steepest between brown and purple near 35 nm', (_, system, expected) => {
    const model = filmModel(system);
    const steps = thicknesses(0, 300).map((nm) => deltaE2000(model.labAt(nm), model.labAt(nm + 1)));
    expect(Math.max(...steps)).toBeCloseTo(expected, 1);
    expect(Math.abs(steps.indexOf(Math.max(...steps)) - 35)).toBeLessThan(10);
  });
});

describe('magnetite on iron: what is known of its sequence', () => {
  // Figures of the separate implementation behind reference/optics/film_colours.csv, rounded to whole units.
  const chromaBetween = (model: FilmModel, from: number, to: number) =>
    Math.max(...thicknesses(from, to).map((nm) => model.colourAt(nm).lch.C));
  const estimate = { film: constantSets.Fe3O4_estimate, substrate: constantSets.Fe_Johnson1974 };

  it.each([
    {
      case: 'Querry, dense',
      system: steelSystem,
      voidFraction: 0,
      chroma: [75, 86, 65, 49],
      darkest: 11,
      atNm: 44,
    },
    {
      case: 'Querry, 30 % voids',
      system: steelSystem,
      voidFraction: 0.3,
      chroma: [47, 85, 85, 72],
      darkest: 26,
      atNm: 58,
    },
    {
      case: 'estimate, dense',
      system: estimate,
      voidFraction: 0,
      chroma: [19, 10, 4, 1],
      darkest: 34,
      atNm: 46,
    },
    {
      case: 'estimate, 30 % voids',
      system: estimate,
      voidFraction: 0.3,
      chroma: [32, 18, 12, 4],
      darkest: 16,
      atNm: 62,
    },
    {
      case: 'estimate, 50 % voids',
      system: estimate,
      voidFraction: 0.5,
      chroma: [43, 35, 31, 16],
      darkest: 7,
      atNm: 78,
    },
  ])(
    '$case: most chroma by hundreds of nm, darkest first order',
    ({ system, voidFraction, chroma, darkest, atNm }) => {
      const model = filmModel({ ...system, voidFraction });
      for (const [i, expected] of chroma.entries()) {
        expect(Math.abs(chromaBetween(model, 100 * i, 100 * (i + 1)) - expected)).toBeLessThan(1);
      }
      const lightness = thicknesses(0, 120).map((nm) => model.labAt(nm).L);
      expect(Math.abs(Math.min(...lightness) - darkest)).toBeLessThan(1);
      expect(Math.abs(lightness.indexOf(Math.min(...lightness)) - atNm)).toBeLessThanOrEqual(1);
    },
  );
});

it('counts half-waves of green light: n d / 275 nm straight on, fewer through pores and askance', () => {
  const straight = filmModel(titaniumSystem).halfWavesAt(100);
  expect(straight).toBeCloseTo((2 * 2.34654 * 100) / 550, 9);
  expect(filmModel({ ...titaniumSystem, angleDeg: 45 }).halfWavesAt(100)).toBeLessThan(straight);
  expect(filmModel({ ...titaniumSystem, voidFraction: 0.2 }).halfWavesAt(100)).toBeLessThan(straight);
});

describe.each(systemNames)('%s: the table of colours used in searches', (name: SystemName) => {
  it('stays within 0.01 dE00 of the model', () => {
    const model = filmModel(resolveSystem(name));
    const path = colourPathOf(model);
    for (let nm = 0; nm < 600; nm += 0.37) {
      expect(deltaE2000(path.labAt(nm), model.labAt(nm))).toBeLessThan(0.01);
    }
    expect(path.labAt(1700.3)).toEqual(model.labAt(1700.3));
    expect(colourPathOf(model)).toBe(path);
  });
});

it('refuses what is no film', () => {
  const refusal = (change: object) => () => filmModel({ ...titaniumSystem, ...change });
  expect(refusal({ angleDeg: 90 })).toThrow(expect.objectContaining({ argument: 'angleDeg' }));
  expect(refusal({ voidFraction: 1.5 })).toThrow(expect.objectContaining({ argument: 'voidFraction' }));
  expect(refusal({ film: { n: [], k: [] } })).toThrow(expect.objectContaining({ argument: 'film.n' }));
  expect(refusal({ substrate: { n: wavelengthsNm, k: [] } })).toThrow(
    expect.objectContaining({ argument: 'substrate.k', code: 'malformed' }),
  );
  expect(() => filmModel(titaniumSystem).labAt(-1)).toThrow(
    expect.objectContaining({ argument: 'thicknessNm' }),
  );
  expect(() => filmModel(titaniumSystem).colourAt(NaN)).toThrow(
    expect.objectContaining({ code: 'not-finite' }),
  );
});
