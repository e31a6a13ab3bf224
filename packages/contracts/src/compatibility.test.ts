import { expect, test } from 'vitest';
import { BaseMetal, forbiddenContents, refusalFor } from './compatibility.ts';

test.each(['aluminium', 'magnesium', 'zinc', 'tin', 'copper', 'tantalum', 'niobium'] as const)(
  '%s never goes into hot caustic',
  (baseMetal) => {
    expect(refusalFor({ baseMetal, contents: 'hot-caustic' })).toMatchObject({ baseMetal });
  },
);

test('what is coloured in a bath may go into it', () => {
  expect(refusalFor({ baseMetal: 'steel', contents: 'hot-caustic' })).toBeNull();
  expect(refusalFor({ baseMetal: 'aluminium', contents: 'alkaline-etch' })).toBeNull();
  expect(refusalFor({ baseMetal: 'aluminium', contents: 'sulfuric-anodize' })).toBeNull();
  for (const baseMetal of BaseMetal.options) {
    expect(refusalFor({ baseMetal, contents: 'water-rinse' })).toBeNull();
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
