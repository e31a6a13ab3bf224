import { type AnalysisMethod, MethodKind, NewMethod } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { bodyOf, emptyMethod, type MethodValues, valuesOf } from './method-form.ts';
import { settingLines } from './method-labels.ts';

const filled: MethodValues = {
  ...emptyMethod,
  code: 'M-1',
  name: 'A method',
  source: 'the shop',
  settings: {
    ...emptyMethod.settings,
    titrant: { reagent: 'HCl', nominalEqPerLitre: 1 },
    sample: { basis: 'mass', amount: 2, diluted: true, dilution: { madeUpToMl: 250, takenMl: 25 } },
    indicators: ['phenolphthalein', 'methyl orange'],
  },
};
const stored = (values: MethodValues) => bodyOf(values) as unknown as AnalysisMethod;

describe.each(MethodKind.options)('a method of kind %s', (kind) => {
  it('is sent as the contract wants it, and comes back as it was', () => {
    const body = bodyOf({ ...filled, kind });
    expect(NewMethod.parse(body)).toEqual(body);
    expect(bodyOf(valuesOf(stored({ ...filled, kind })))).toEqual(body);
  });
});

it('leaves out the dilution that is not made', () => {
  const { sample } = filled.settings;
  const undiluted = { ...filled, settings: { ...filled.settings, sample: { ...sample, diluted: false } } };
  expect(bodyOf(undiluted).settings.sample).toEqual({ basis: 'mass', amount: 2, dilution: null });
});

it('is told line by line, by what its kind uses', () => {
  const labels = (kind: MethodKind) => settingLines(stored({ ...filled, kind })).map(({ label }) => label);
  expect(labels('caustic-two-end-points')).toContain('Second end point');
  expect(labels('caustic-barium-chloride')).not.toContain('Second end point');
  expect(labels('ph')).toEqual([
    'Kind',
    'Solute',
    'Flasks or readings',
    'May differ by',
    'A reading is good to',
  ]);
});
