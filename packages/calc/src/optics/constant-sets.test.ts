import { describe, expect, it } from 'vitest';
import { wavelengthsNm } from '../colour/index.ts';
import { constantSets } from './constant-sets.ts';
import { filmReflectance } from './film-reflectance.ts';
import { systemNames } from './resolve-system.ts';

const GREEN = wavelengthsNm.indexOf(550);

describe.each(Object.entries(constantSets))('%s', (key, set) => {
  it('is complete: 81 wavelengths, physical values, and where they come from', () => {
    expect(set.name).toBe(key);
    expect(key.startsWith(`${set.material}_`)).toBe(true);
    expect(set.n).toHaveLength(81);
    expect(set.k).toHaveLength(81);
    expect(Math.min(...set.n)).toBeGreaterThan(0.2);
    expect(Math.max(...set.n)).toBeLessThan(4);
    expect(Math.min(...set.k)).toBeGreaterThanOrEqual(0);
    expect(set.source.length).toBeGreaterThan(20);
    expect(['P', 'P-model', 'D']).toContain(set.evidence);
    expect(set.licence).not.toBe('');
  });

  it('has no misprint: neighbouring values never jump', () => {
    for (const values of [set.n, set.k]) {
      const jumps = values.slice(1).map((value, i) => Math.abs(value - (values[i] ?? NaN)));
      expect(Math.max(...jumps)).toBeLessThan(0.1);
    }
  });
});

it('knows 26 sets of 6 metals and 7 oxides', () => {
  const sets = Object.values(constantSets);
  expect(sets).toHaveLength(26);
  expect(new Set(sets.filter(({ role }) => role === 'metal').map(({ material }) => material)).size).toBe(6);
  expect(new Set(sets.filter(({ role }) => role === 'oxide').map(({ material }) => material)).size).toBe(7);
  expect(systemNames).toEqual(['titanium', 'niobium', 'tantalum', 'zirconium', 'steel', 'aluminium']);
});

describe('bare metal at 550 nm, as the sources are known for', () => {
  it.each([
    ['Ti_Johnson1974', 0.58],
    ['Ti_LynchHandbook', 0.5],
    ['Ti_Palm2018', 0.4],
    ['Zr_Querry1987', 0.57],
    ['Zr_Palm2018', 0.31],
  ] as const)('%s reflects %d', (substrate, expected) => {
    expect(filmReflectance({ layers: [], substrate })[GREEN]).toBeCloseTo(expected, 2);
  });

  it('aluminium reflects 0.92 (usual handbook figure for evaporated films)', () => {
    expect(filmReflectance({ layers: [], substrate: 'Al_Rakic1995' })[GREEN]).toBeCloseTo(0.92, 1);
  });
});

it('ZrO2_Wood1982 follows its Sellmeier formula (Wood and Nassau 1982, coefficients from memory)', () => {
  for (const [i, nm] of wavelengthsNm.entries()) {
    const square = (nm / 1000) ** 2;
    const n2 =
      1 +
      (1.347091 * square) / (square - 0.062543 ** 2) +
      (2.117788 * square) / (square - 0.166739 ** 2) +
      (9.452943 * square) / (square - 24.32057 ** 2);
    expect(constantSets.ZrO2_Wood1982.n[i]).toBeCloseTo(Math.sqrt(n2), 5);
  }
});
