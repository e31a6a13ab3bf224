import { NewStep, usualCautions, SAFETY_DISCLAIMER, type Step } from '@huelot/contracts';
import { describe, expect, it } from 'vitest';
import { copyOfStep, drawable, emptyStep, newStepOf, stepValuesOf } from './step-values.ts';

const step: Step = {
  kind: 'colour',
  title: 'Colour',
  instructions: 'Ramp, then hold.',
  contents: 'mild-salt',
  durationS: 75,
  dripS: 15,
  settings: [
    { quantity: 'voltageV', target: 28, low: 27.5, high: 28.5 },
    { quantity: 'durationS', target: 75, low: 70, high: 90 },
  ],
  electrical: {
    mode: 'voltage',
    programme: [{ kind: 'ramp', to: 28, seconds: 25 }],
    peakCurrentDensityAPerM2: 200,
    steadyCurrentDensityAPerM2: 12,
    timeConstantS: 9,
    averageVoltageV: 14,
    chargeCPerM2: null,
  },
  cautions: usualCautions({ kind: 'colour', contents: 'mild-salt', onSupply: true }),
  record: ['voltageV'],
};

describe('a step in the editor', () => {
  it('opened and saved changes nothing', () => {
    expect(newStepOf(stepValuesOf(step))).toEqual(step);
    const bench: Step = {
      ...step,
      kind: 'inspect',
      contents: null,
      electrical: null,
      cautions: [],
      settings: [],
    };
    expect(newStepOf(stepValuesOf(bench))).toEqual(bench);
  });

  it('takes new limits of the time along with the time', () => {
    const values = { ...stepValuesOf(step), durationS: 80 };
    expect(newStepOf(values).settings.at(-1)).toEqual({
      quantity: 'durationS',
      target: 80,
      low: 70,
      high: 90,
    });
    expect(newStepOf({ ...values, timeLowS: null, timeHighS: null }).settings).toHaveLength(1);
  });

  it('always closes its cautions with who decides', () => {
    expect(newStepOf({ ...stepValuesOf(step), cautions: ['Mind the cover.'] }).cautions).toEqual([
      'Mind the cover.',
      SAFETY_DISCLAIMER,
    ]);
  });

  it('starts with what is usual for its kind', () => {
    const rinse = newStepOf(emptyStep('rinse'));
    expect(rinse).toMatchObject({ title: 'Rinse', contents: 'water-rinse', electrical: null });
    expect(NewStep.safeParse(rinse).success).toBe(true);
    const anodize = newStepOf(emptyStep('anodize'));
    expect(anodize.contents).toBe('sulfuric-anodize');
    expect(anodize.cautions.at(-1)).toBe(SAFETY_DISCLAIMER);
    expect(NewStep.safeParse(anodize).error?.issues.map(({ path }) => path.join('.'))).toContain(
      'electrical.peakCurrentDensityAPerM2',
    );
  });

  it('copied is another step with the same words', () => {
    const values = stepValuesOf(step);
    const copy = copyOfStep(values);
    expect(copy.key).not.toBe(values.key);
    expect(newStepOf(copy)).toEqual(newStepOf(values));
  });
});

describe('a programme while it is typed', () => {
  const typed = stepValuesOf(step).electrical;

  it('is drawn once its figures are there', () => expect(typed && drawable(typed)).toBe(true));

  it.each([
    { peakCurrentDensityAPerM2: null },
    { steadyCurrentDensityAPerM2: -1 },
    { timeConstantS: 0 },
    { programme: [] },
  ])('waits while it says %j', (input) => expect(typed && drawable({ ...typed, ...input })).toBe(false));
});
