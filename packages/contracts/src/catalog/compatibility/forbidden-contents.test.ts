import { expect, test } from 'vitest';
import { BaseMetal } from '../base-metals.ts';
import { forbiddenContents, findIncompatibility } from './forbidden-contents.ts';

test.each(['aluminium', 'magnesium', 'zinc', 'tin', 'copper', 'tantalum', 'niobium'] as const)(
  '%s never goes into hot caustic',
  (baseMetal) => {
    expect(findIncompatibility({ baseMetal, contents: 'hot-caustic' })).toMatchObject({ baseMetal });
  },
);

test('what is coloured in a bath may go into it', () => {
  expect(findIncompatibility({ baseMetal: 'steel', contents: 'hot-caustic' })).toBeNull();
  expect(findIncompatibility({ baseMetal: 'aluminium', contents: 'alkaline-etch' })).toBeNull();
  expect(findIncompatibility({ baseMetal: 'aluminium', contents: 'sulfuric-anodize' })).toBeNull();
  for (const baseMetal of BaseMetal.options) {
    expect(findIncompatibility({ baseMetal, contents: 'water-rinse' })).toBeNull();
  }
});

test('every pair is there once, says why and how that is known', () => {
  const pairs = forbiddenContents.map(({ baseMetal, contents }) => `${baseMetal} ${contents}`);
  expect(new Set(pairs).size).toBe(pairs.length);
  for (const { why, source, evidence } of forbiddenContents) {
    expect(why.length).toBeGreaterThan(20);
    expect(evidence === 'C').toBe(source.includes('no source'));
  }
});
