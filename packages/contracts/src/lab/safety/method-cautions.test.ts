import { expect, test } from 'vitest';
import { cautionsOfMethod } from './method-cautions.ts';

const none = { aluminium: null, procedure: null };

test('fluoride into the acid of a flask was only said to etch glass', () => {
  for (const method of [
    { kind: 'sulfuric-free-acid', settings: { ...none, aluminium: 'masked' } },
    { kind: 'sulfuric-aluminium', settings: { ...none, procedure: 'fluoride' } },
  ] as const)
    expect(cautionsOfMethod(method)[0]).toMatch(/sets hydrofluoric acid free.*calcium gluconate/);
});

test('the poison of barium stood in a closed text', () => {
  expect(cautionsOfMethod({ kind: 'caustic-barium-chloride', settings: none })[0]).toContain('poisonous');
});

test('a method without such a reagent warns of none', () => {
  for (const settings of [
    none,
    { ...none, aluminium: 'counted' },
    { ...none, procedure: 'two-end-points' },
  ] as const)
    for (const kind of ['sulfuric-free-acid', 'sulfuric-aluminium', 'appearance'] as const)
      expect(cautionsOfMethod({ kind, settings })).toEqual([]);
});
