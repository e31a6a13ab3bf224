import { capitalise } from '$lib/format/capitalise.ts';
import {
  electrolyticKinds,
  stepKindNames,
  usualCautions,
  SAFETY_DISCLAIMER,
  type Electrical,
  type NewStep,
  type Step,
  type StepKind,
  type StepSetting,
  type TankContents,
} from '@huelot/contracts';
import type { AsTyped } from '$lib/forms/typing.ts';

type Stage = Electrical['programme'][number];
export type StageValues = AsTyped<Stage>;
export type ElectricalValues = AsTyped<Omit<Electrical, 'programme'>> & { programme: StageValues[] };

/** A step while it is written. The limits of its time stand apart from the other settings. */
export interface StepValues extends Omit<
  Step,
  'contents' | 'durationS' | 'dripS' | 'settings' | 'electrical' | 'cautions'
> {
  /** Tells steps apart while they move; never sent. */
  key: number;
  contents: TankContents | '';
  durationS: number | null;
  dripS: number | null;
  timeLowS: number | null;
  timeHighS: number | null;
  settings: StepSetting[];
  electrical: ElectricalValues | null;
  /** Without the closing one, which is always there. */
  cautions: string[];
}

let keys = 0;
const nextKey = () => (keys += 1);

const emptyElectrical: ElectricalValues = {
  mode: 'voltage',
  programme: [
    { kind: 'ramp', to: null, seconds: null },
    { kind: 'hold', to: null, seconds: null },
  ],
  peakCurrentDensityAPerM2: null,
  steadyCurrentDensityAPerM2: null,
  timeConstantS: null,
  averageVoltageV: null,
  chargeCPerM2: null,
};
export const newElectrical = (): ElectricalValues => structuredClone(emptyElectrical);

export const runsOnSupply = (kind: StepKind): boolean =>
  (electrolyticKinds as readonly StepKind[]).includes(kind);

/** Where each kind of step usually is done. */
const usualContents: Partial<Record<StepKind, TankContents>> = {
  clean: 'alkaline-clean',
  rinse: 'water-rinse',
  desmut: 'desmut',
  anodize: 'sulfuric-anodize',
  dye: 'dye',
  seal: 'seal',
  oil: 'oil',
  strip: 'strip',
  dry: 'air',
};

/** The cautions usual for a step as it stands, without the closing one. */
export const usualFor = ({
  kind,
  contents,
  electrical,
}: Pick<StepValues, 'kind' | 'contents' | 'electrical'>) =>
  usualCautions({
    kind,
    contents: contents === '' ? null : contents,
    onSupply: electrical !== null,
  }).filter((caution) => caution !== SAFETY_DISCLAIMER);

export function emptyStep(kind: StepKind): StepValues {
  const name = stepKindNames[kind];
  const step: StepValues = {
    key: nextKey(),
    kind,
    title: capitalise(name),
    instructions: '',
    contents: usualContents[kind] ?? '',
    durationS: 0,
    dripS: 0,
    timeLowS: null,
    timeHighS: null,
    settings: [],
    electrical: runsOnSupply(kind) ? newElectrical() : null,
    cautions: [],
    record: runsOnSupply(kind) ? ['voltageV', 'currentA', 'temperatureC', 'durationS'] : [],
  };
  return { ...step, cautions: usualFor(step) };
}

export const copyOfStep = (step: StepValues): StepValues => ({ ...structuredClone(step), key: nextKey() });

export function stepValuesOf(step: Step): StepValues {
  const time = step.settings.find(({ quantity }) => quantity === 'durationS');
  return {
    ...step,
    key: nextKey(),
    contents: step.contents ?? '',
    timeLowS: time?.low ?? null,
    timeHighS: time?.high ?? null,
    settings: step.settings.filter((setting) => setting !== time),
    cautions: step.cautions.filter((caution) => caution !== SAFETY_DISCLAIMER),
  };
}

/**
 * A step as it is sent. Figures that are still missing go along as null, and the server refuses them by the name of
 * their field. The limits of the time come last, so that every other setting keeps its place in what the server says.
 */
export function newStepOf({ key: _, timeLowS, timeHighS, ...values }: StepValues): NewStep {
  const time =
    timeLowS === null && timeHighS === null
      ? []
      : [{ quantity: 'durationS', target: values.durationS, low: timeLowS, high: timeHighS } as const];
  const step: AsTyped<NewStep> = {
    ...values,
    contents: values.contents === '' ? null : values.contents,
    settings: [...values.settings, ...time],
    electrical: values.electrical as Electrical | null,
    cautions: values.cautions.length === 0 ? [] : [...values.cautions, SAFETY_DISCLAIMER],
  };
  return step as NewStep;
}

/** Whether a programme is typed far enough to be drawn. */
export function drawable(electrical: ElectricalValues): electrical is Electrical {
  const { programme, peakCurrentDensityAPerM2: peak, steadyCurrentDensityAPerM2: steady } = electrical;
  const { timeConstantS } = electrical;
  return (
    peak !== null &&
    steady !== null &&
    peak >= 0 &&
    steady >= 0 &&
    (timeConstantS === null || timeConstantS > 0) &&
    programme.length > 0 &&
    programme.every(({ to, seconds }) => to !== null && seconds !== null && seconds > 0)
  );
}
