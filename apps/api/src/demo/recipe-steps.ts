import {
  usualCautions,
  type Electrical,
  type NewStep,
  type StepQuantity,
  type StepSetting,
} from '@huelot/contracts';

/*
 * Recipes of the invented shop. Settings are plausible and made up: nobody should colour anything by them. The windows for
 * steel follow common practice (no source): interference colours near 50 °C and 2 to 2.5 V, black near 90 °C.
 */

type Sketch = Pick<NewStep, 'kind' | 'title' | 'contents'> & {
  minutes: number;
} & Partial<Pick<NewStep, 'settings' | 'record' | 'electrical'>>;

/** A step in full: its time as a setting where the operator records it, the usual drip and the usual cautions. */
function step({ minutes, settings = [], record = [], electrical = null, ...of }: Sketch): NewStep {
  const durationS = minutes * 60;
  return {
    ...of,
    instructions: '',
    durationS,
    dripS: of.contents === null || of.contents === 'air' ? 0 : 15,
    settings: record.includes('durationS')
      ? [...settings, about('durationS', durationS, durationS / 10)]
      : settings,
    record,
    electrical,
    cautions: usualCautions({ ...of, onSupply: electrical !== null }),
  };
}
const about = (quantity: StepQuantity, target: number, halfWidth: number): StepSetting => ({
  quantity,
  target,
  low: Number((target - halfWidth).toFixed(3)),
  high: Number((target + halfWidth).toFixed(3)),
});
const clean = step({
  kind: 'clean',
  title: 'Alkaline clean',
  contents: 'alkaline-clean',
  minutes: 5,
  settings: [about('temperatureC', 58, 5)],
  record: ['temperatureC'],
});
const rinse = (title: string) => step({ kind: 'rinse', title, contents: 'water-rinse', minutes: 1 });
const dry = step({ kind: 'dry', title: 'Dry', contents: 'air', minutes: 6 });
const look = step({ kind: 'inspect', title: 'Compare with the agreed sample', contents: null, minutes: 5 });
const ramped = (
  volts: number,
  {
    rampS,
    holdS,
    peak,
    steady,
    tauS,
  }: {
    rampS: number;
    holdS: number;
    peak: number;
    steady: number;
    tauS: number | null;
  },
): Electrical => ({
  mode: 'voltage',
  programme: [
    { kind: 'ramp', to: volts, seconds: rampS },
    { kind: 'hold', to: volts, seconds: holdS },
  ],
  peakCurrentDensityAPerM2: peak,
  steadyCurrentDensityAPerM2: steady,
  timeConstantS: tauS,
  averageVoltageV: Number((volts * 0.92).toFixed(2)),
  chargeCPerM2: null,
});
const valveColour = (volts: number) =>
  step({
    kind: 'colour',
    title: `Colour at ${volts} V`,
    contents: 'mild-salt',
    minutes: 2,
    settings: [about('voltageV', volts, 0.5), about('temperatureC', 21, 3)],
    record: ['voltageV', 'currentA', 'temperatureC'],
    electrical: ramped(volts, { rampS: 20, holdS: 60, peak: 200, steady: 5, tauS: 12 }),
  });

export const valve = (volts: number): NewStep[] => [
  clean,
  rinse('Rinse'),
  step({ kind: 'etch', title: 'Bright etch', contents: 'fluoride-etch', minutes: 2 }),
  rinse('Rinse well'),
  valveColour(volts),
  rinse('Final rinse'),
  dry,
  look,
];
export const causticColour = (
  title: string,
  { minutes, temperatureC, volts }: { temperatureC: number; volts: number; minutes: number },
) =>
  step({
    kind: 'colour',
    title,
    contents: 'hot-caustic',
    minutes,
    settings: [about('temperatureC', temperatureC, 2), about('voltageV', volts, 0.1)],
    record: ['temperatureC', 'voltageV', 'currentA', 'durationS'],
    electrical: ramped(volts, {
      rampS: 10,
      holdS: minutes * 60 - 20,
      peak: 1000,
      steady: 1000,
      tauS: null,
    }),
  });
export const caustic = (colour: NewStep): NewStep[] => [
  clean,
  rinse('Rinse'),
  colour,
  rinse('Rinse long'),
  step({
    kind: 'rinse',
    title: 'Hot rinse',
    contents: 'hot-rinse',
    minutes: 3,
    settings: [about('temperatureC', 70, 8)],
    record: ['temperatureC'],
  }),
  dry,
  step({ kind: 'oil', title: 'Inhibitor oil', contents: 'oil', minutes: 2 }),
  look,
];
export const dyed: NewStep[] = [
  clean,
  rinse('Rinse'),
  step({
    kind: 'etch',
    title: 'Etch',
    contents: 'alkaline-etch',
    minutes: 3,
    settings: [about('temperatureC', 55, 4)],
    record: ['temperatureC'],
  }),
  rinse('Rinse'),
  step({ kind: 'desmut', title: 'Desmut', contents: 'desmut', minutes: 2 }),
  rinse('Rinse'),
  step({
    kind: 'anodize',
    title: 'Anodize',
    contents: 'sulfuric-anodize',
    minutes: 36,
    settings: [about('voltageV', 16, 1), about('temperatureC', 20, 1.5)],
    record: ['voltageV', 'currentA', 'temperatureC', 'durationS'],
    electrical: ramped(16, {
      rampS: 60,
      holdS: 2040,
      peak: 150,
      steady: 150,
      tauS: null,
    }),
  }),
  rinse('Rinse well'),
  step({
    kind: 'dye',
    title: 'Dye red',
    contents: 'dye',
    minutes: 8,
    settings: [about('temperatureC', 55, 4), about('pH', 5.5, 0.4)],
    record: ['temperatureC', 'pH'],
  }),
  rinse('Rinse'),
  step({
    kind: 'seal',
    title: 'Hot seal',
    contents: 'seal',
    minutes: 30,
    settings: [about('temperatureC', 96, 2)],
    record: ['temperatureC'],
  }),
  dry,
  look,
];
