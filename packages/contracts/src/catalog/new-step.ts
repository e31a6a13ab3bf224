import { z } from 'zod';
import {
  Electrical,
  electrolyticKinds,
  ProgrammeStage,
  programmeSeconds,
  Step,
  stepQuantities,
  StepSetting,
  type StepKind,
  type StepQuantity,
} from './steps.ts';

/** The lowest figure that can be meant. */
const leastOf = (quantity: StepQuantity) => (quantity === 'temperatureC' ? -50 : 0);

const NewSetting = z
  .strictObject(StepSetting.shape)
  .superRefine(({ quantity, target, low, high }, context) => {
    const fault = (path: 'target' | 'low' | 'high', message: string) =>
      context.addIssue({ code: 'custom', path: [path], message });
    const { max } = stepQuantities[quantity];
    const least = leastOf(quantity);
    for (const [path, value] of Object.entries({ target, low, high })) {
      if (value !== null && (value < least || value > max)) {
        fault(path as 'target', `must be from ${least} to ${max}`);
      }
    }
    if (target === null && low === null && high === null) fault('target', 'needs a target or a limit');
    if (low !== null && high !== null && low > high) fault('low', 'must not be above the high limit');
    if (target !== null && low !== null && low > target) fault('low', 'must not be above the target');
    if (target !== null && high !== null && high < target) fault('high', 'must not be below the target');
  });

const NewElectrical = z
  .strictObject({
    ...Electrical.shape,
    programme: z
      .array(z.strictObject(ProgrammeStage.shape))
      .min(1, 'needs at least one ramp or hold')
      .max(20),
  })
  .superRefine((electrical, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    const { mode, programme, averageVoltageV } = electrical;
    const peak = electrical.peakCurrentDensityAPerM2;
    const steady = electrical.steadyCurrentDensityAPerM2;
    if (steady > peak) fault(['steadyCurrentDensityAPerM2'], 'must not be above the peak');
    if (steady < peak && electrical.timeConstantS === null) {
      fault(['timeConstantS'], 'is needed when the current falls from a peak to a lower steady value');
    }
    const highest = Math.max(...programme.map(({ to }) => to));
    if (highest === 0) fault(['programme', 0, 'to'], 'the programme never leaves zero');
    const limit = mode === 'voltage' ? 1000 : 100_000;
    programme.forEach(({ to }, index) => {
      if (to > limit) fault(['programme', index, 'to'], `must be at most ${limit}`);
    });
    if (mode === 'voltage' && averageVoltageV > highest && highest > 0) {
      fault(['averageVoltageV'], `must not be above ${highest} V, the highest of the programme`);
    }
    if (mode === 'current' && highest > peak) {
      fault(['peakCurrentDensityAPerM2'], 'must not be below the highest of the programme');
    }
  });

/** A step being written, with everything that must agree inside it. */
export const NewStep = z
  .strictObject({
    ...Step.shape,
    settings: z.array(NewSetting).max(12),
    electrical: NewElectrical.nullable(),
  })
  .superRefine((step, context) => {
    const fault = (path: (string | number)[], message: string) =>
      context.addIssue({ code: 'custom', path, message });
    const repeated = (names: readonly string[]) =>
      names.findIndex((name, index) => names.indexOf(name) !== index);

    const twiceSet = repeated(step.settings.map(({ quantity }) => quantity));
    if (twiceSet >= 0) fault(['settings', twiceSet, 'quantity'], 'is set twice in this step');
    const twiceRecorded = repeated(step.record);
    if (twiceRecorded >= 0) fault(['record', twiceRecorded], 'is listed twice');

    step.settings.forEach(({ quantity, target }, index) => {
      if (quantity === 'durationS' && target !== step.durationS) {
        fault(['settings', index, 'target'], `must be ${step.durationS} s, the time of the step`);
      }
    });

    const electrolytic = (electrolyticKinds as readonly StepKind[]).includes(step.kind);
    if (step.electrical === null) {
      if (electrolytic) fault(['electrical'], 'is needed: this step runs on a power supply');
      return;
    }
    if (!electrolytic && step.kind !== 'clean' && step.kind !== 'strip') {
      fault(['electrical'], 'only cleaning, stripping, colouring and anodizing run on a power supply');
    }
    if (step.contents === null || step.contents === 'air') {
      fault(['contents'], 'must be a bath: this step runs on a power supply');
    }
    const { programme, mode } = step.electrical;
    const seconds = programmeSeconds(programme);
    if (seconds > step.durationS) {
      fault(['durationS'], `must be at least ${seconds} s, the length of the programme`);
    }
    const last = programme.at(-1)?.to;
    if (last === undefined) return;
    const quantity = mode === 'voltage' ? 'voltageV' : 'currentDensityAPerM2';
    step.settings.forEach((setting, index) => {
      if (setting.quantity !== quantity) return;
      if (setting.target !== null && setting.target !== last) {
        fault(['settings', index, 'target'], `must be ${last}, where the programme ends`);
      } else if (setting.target === null && ((setting.low ?? last) > last || (setting.high ?? last) < last)) {
        fault(['settings', index, 'low'], `the limits must hold ${last}, where the programme ends`);
      }
    });
  });
export type NewStep = z.output<typeof NewStep>;
