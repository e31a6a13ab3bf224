import { describe, expect, it } from 'vitest';
import { constantSets } from './constant-sets.ts';
import { filmModel } from './film-model.ts';
import { modelOf } from './model-of.ts';
import { resolveSystem, systemNames } from './resolve-system.ts';
import { titaniumSystem } from './systems.ts';

const given = { ...titaniumSystem, angleDeg: 0, voidFraction: 0 };

describe('a film asked for again and again', () => {
  it('is one model while nothing about it changes', () => {
    expect(modelOf(given)).toBe(modelOf({ ...given }));
  });

  it.each([
    { film: constantSets.TiO2_Siefke2016 },
    { substrate: constantSets.Ti_Palm2018 },
    { angleDeg: 8 },
    { voidFraction: 0.1 },
  ])('is another when something does: %#', (change) => {
    const other = { ...given, ...change };
    expect(modelOf(other)).not.toBe(modelOf(given));
    expect(modelOf(other).labAt(60)).toEqual(filmModel(other).labAt(60));
  });

  it('is made again, the same, after many others', () => {
    const before = modelOf(given);
    for (let i = 1; i <= 40; i++) modelOf({ ...given, angleDeg: i });
    expect(modelOf(given)).not.toBe(before);
    expect(modelOf(given).labAt(60)).toEqual(before.labAt(60));
    expect(modelOf({ ...given, angleDeg: 40 })).toBe(modelOf({ ...given, angleDeg: 40 }));
  });
});

describe('a system', () => {
  it.each(systemNames)('%s is an oxide on its metal', (name) => {
    const { film, substrate } = resolveSystem(name);
    expect([film.role, substrate.role]).toEqual(['oxide', 'metal']);
  });

  it('a metal is no film and an oxide no substrate: the refusal names those that are', () => {
    const swapped = () => resolveSystem({ film: 'Ti_Johnson1974', substrate: 'Ti_Johnson1974' });
    expect(swapped).toThrow(expect.objectContaining({ argument: 'system.film', code: 'impossible' }));
    expect(swapped).toThrow('TiO2_Franta2015');
    expect(swapped).not.toThrow('Ti_Palm2018');
    const oxide = () => resolveSystem({ film: 'TiO2_Franta2015', substrate: 'TiO2_Franta2015' });
    expect(oxide).toThrow(expect.objectContaining({ argument: 'system.substrate', code: 'impossible' }));
    expect(oxide).toThrow('Ti_Palm2018');
    expect(oxide).not.toThrow('TiO2_Siefke2016');
  });
});
