import {
  usualCautions,
  type Electrical,
  type NewStep,
  type StepQuantity,
  type StepSetting,
} from '@huelot/contracts';

type Sketch = Pick<NewStep, 'kind' | 'title' | 'contents'> & { seconds: number } & Partial<
    Pick<NewStep, 'settings' | 'record' | 'electrical' | 'instructions'>
  >;

/** A step with the usual cautions, its time a setting where the operator records it. */
export function step({ seconds, settings = [], record = [], electrical = null, ...sketch }: Sketch): NewStep {
  return {
    instructions: '',
    ...sketch,
    durationS: seconds,
    dripS: sketch.contents === null || sketch.contents === 'air' ? 0 : 15,
    settings: record.includes('durationS')
      ? [...settings, around('durationS', seconds, seconds / 10)]
      : settings,
    record,
    electrical,
    cautions: usualCautions({ ...sketch, onSupply: electrical !== null }),
  };
}

export const around = (quantity: StepQuantity, target: number, halfWidth: number): StepSetting => ({
  quantity,
  target,
  low: Number((target - halfWidth).toFixed(3)),
  high: Number((target + halfWidth).toFixed(3)),
});

/** A supply that runs up to a level and stays there. */
export const upTo = (
  level: number,
  extra: Pick<
    Electrical,
    'mode' | 'peakCurrentDensityAPerM2' | 'steadyCurrentDensityAPerM2' | 'averageVoltageV'
  > & {
    rampS: number;
    holdS: number;
    timeConstantS?: number;
  },
): Electrical => {
  const { rampS, holdS, timeConstantS = null, ...rest } = extra;
  return {
    ...rest,
    programme: [
      { kind: 'ramp', to: level, seconds: rampS },
      { kind: 'hold', to: level, seconds: holdS },
    ],
    timeConstantS,
    chargeCPerM2: null,
  };
};

export const clean = step({
  ...{ kind: 'clean', title: 'Alkaline clean', contents: 'alkaline-clean', seconds: 300 },
  ...{ settings: [around('temperatureC', 58, 7)], record: ['temperatureC'] },
});
export const rinse = (title = 'Rinse') =>
  step({ kind: 'rinse', title, contents: 'water-rinse', seconds: 60 });
export const dry = step({ kind: 'dry', title: 'Dry', contents: 'air', seconds: 360 });
export const inspect = step({
  ...{ kind: 'inspect', title: 'Compare with the agreed colour', contents: null, seconds: 300 },
});
