import { describe, expect, it } from 'vitest';
import { usualCautions, SAFETY_DISCLAIMER } from '../lab/safety/cautions.ts';
import { NewStep } from './new-step.ts';

const colour = {
  kind: 'colour',
  title: 'Colour',
  instructions: '',
  contents: 'mild-salt',
  durationS: 60,
  dripS: 10,
  settings: [{ quantity: 'voltageV', target: 28, low: 27.5, high: 28.5 }],
  electrical: {
    mode: 'voltage',
    programme: [
      { kind: 'ramp', to: 28, seconds: 20 },
      { kind: 'hold', to: 28, seconds: 30 },
    ],
    peakCurrentDensityAPerM2: 200,
    steadyCurrentDensityAPerM2: 10,
    timeConstantS: 8,
    averageVoltageV: 24,
    chargeCPerM2: null,
  },
  cautions: [],
  record: ['voltageV', 'currentA'],
};

/** Where a changed step is faulted. */
const faults = (change: (step: typeof colour) => unknown) => {
  const parsed = NewStep.safeParse(change(structuredClone(colour)));
  return parsed.success ? [] : parsed.error.issues.map(({ path }) => path.join('.'));
};
const withSetting = (setting: object) => faults((step) => ({ ...step, settings: [setting] }));
const withElectrical = (part: object) =>
  faults((step) => ({ ...step, electrical: { ...step.electrical, ...part } }));

describe('NewStep', () => {
  it('takes a step in which everything agrees', () => {
    expect(faults((step) => step)).toEqual([]);
  });

  it.each([
    [{ quantity: 'temperatureC', target: 20, low: 21, high: 25 }, ['settings.0.low']],
    [{ quantity: 'temperatureC', target: 26, low: 21, high: 25 }, ['settings.0.high']],
    [{ quantity: 'temperatureC', target: null, low: 25, high: 21 }, ['settings.0.low']],
    [{ quantity: 'temperatureC', target: null, low: null, high: null }, ['settings.0.target']],
    [{ quantity: 'pH', target: 15, low: null, high: null }, ['settings.0.target']],
    [{ quantity: 'pH', target: -1, low: null, high: null }, ['settings.0.target']],
    [{ quantity: 'durationS', target: 90, low: null, high: null }, ['settings.0.target']],
    [{ quantity: 'voltageV', target: 30, low: null, high: null }, ['settings.0.target']],
    [{ quantity: 'voltageV', target: null, low: 29, high: 31 }, ['settings.0.low']],
    [{ quantity: 'temperatureC', target: null, low: null, high: 25 }, []],
  ])('judges the setting %j', (setting, expected) => {
    expect(withSetting(setting)).toEqual(expected);
  });

  it.each([
    [{ steadyCurrentDensityAPerM2: 300 }, ['electrical.steadyCurrentDensityAPerM2']],
    [{ timeConstantS: null }, ['electrical.timeConstantS']],
    [{ averageVoltageV: 29 }, ['electrical.averageVoltageV']],
    [{ programme: [] }, ['electrical.programme']],
    [{ programme: [{ kind: 'hold', to: 28, seconds: 61 }] }, ['durationS']],
    [
      { mode: 'current', programme: [{ kind: 'hold', to: 201, seconds: 30 }] },
      ['electrical.peakCurrentDensityAPerM2'],
    ],
  ])('judges the electrical part %j', (part, expected) => {
    expect(withElectrical(part)).toEqual(expected);
  });

  it('needs a supply to colour, and a bath for the supply', () => {
    expect(faults((step) => ({ ...step, electrical: null }))).toEqual(['electrical']);
    expect(faults((step) => ({ ...step, contents: 'air' }))).toEqual(['contents']);
    expect(faults((step) => ({ ...step, kind: 'rinse' }))).toEqual(['electrical']);
  });

  it('lists nothing twice', () => {
    expect(faults((step) => ({ ...step, record: ['voltageV', 'voltageV'] }))).toEqual(['record.1']);
    expect(faults((step) => ({ ...step, settings: [...step.settings, ...step.settings] }))).toEqual([
      'settings.1.quantity',
    ]);
  });
});

describe('usualCautions', () => {
  it('warns of the bath and the supply, and always defers at the end', () => {
    const cautions = usualCautions({ kind: 'colour', contents: 'hot-caustic', onSupply: true });
    expect(cautions[0]).toMatch(/^Never aluminium/);
    expect(cautions.some((text) => text.includes('Hydrogen'))).toBe(true);
    expect(cautions.at(-1)).toBe(SAFETY_DISCLAIMER);
  });

  it('says nothing where there is nothing to warn of', () => {
    expect(usualCautions({ kind: 'rinse', contents: 'water-rinse', onSupply: false })).toEqual([]);
  });
});
