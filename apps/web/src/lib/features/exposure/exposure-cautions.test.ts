import { ExposureKind } from '@huelot/contracts';
import { expect, it } from 'vitest';
import { cautionsOfExposure } from './exposure-cautions.ts';

it('somebody lifted the lid of a chamber that sprayed acid and copper, and was told of gloves only', () => {
  expect(cautionsOfExposure('copper-acetic-salt-spray').join(' ')).toMatch(
    /Salt fog.*acid.*Copper chloride.*hot.*mains/,
  );
});

it('salt water was named where there is none', () => {
  for (const kind of ['indoor-exposure', 'outdoor-exposure'] as const)
    expect(cautionsOfExposure(kind).join(' ')).not.toMatch(/salt/i);
});

it('every kind says something', () => {
  for (const kind of ExposureKind.options) expect(cautionsOfExposure(kind).length).toBeGreaterThan(0);
});
