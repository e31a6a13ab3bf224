import {
  contentsNames,
  Family,
  familyNames,
  stepKindNames,
  stepQuantities,
  type RecipeStatus,
  type Step,
  type StepQuantity,
  type StepSetting,
} from '@huelot/contracts';
import { format } from '$lib/format/format.ts';
import { duration } from '$lib/format/time.ts';
import type { IconName } from '$lib/ui/icons.ts';
import { rangeInWords } from '$lib/format/range.ts';
import { figureText as figureOf, labelOf } from '$lib/format/step-settings.ts';

export const familyOptions = Family.options.map((value) => ({ value, label: familyNames[value] }));

export const statusStyles: Record<RecipeStatus, { tone: 'quiet' | 'good' | 'danger'; icon: IconName }> = {
  draft: { tone: 'quiet', icon: 'pencil' },
  approved: { tone: 'good', icon: 'check' },
  superseded: { tone: 'quiet', icon: 'lock' },
  withdrawn: { tone: 'danger', icon: 'stop' },
};

/** A figure of a step: seconds as hours, minutes and seconds, everything else in the person's units. */
export const figureText = (quantity: StepQuantity, value: number | null): string =>
  quantity === 'durationS' && value !== null ? duration(value) : figureOf(quantity, value);

/**
 * Target and limits in one line.
 *
 * @example
 * settingText({ quantity: 'voltageV', target: 28, low: 27.5, high: 28.5 }) // '28.00 V (27.50 V to 28.50 V)'
 */
export function settingText({ quantity, target, low, high }: StepSetting): string {
  const text = (value: number) => figureText(quantity, value);
  const limits = rangeInWords({ low, high }, text);
  if (target === null) return limits;
  return limits === '' ? text(target) : `${text(target)} (${limits})`;
}

/** The levels of a programme are volts, or amps per area of the load. */
export const levelText = (mode: 'voltage' | 'current', to: number): string =>
  mode === 'voltage' ? format.quantity('voltage', to) : format.quantity('currentDensity', to);

export interface StepLine {
  field: keyof Step;
  label: string;
  text: string;
}

/** Everything a step says, line by line, empty ones left out. */
export function linesOf(step: Step): StepLine[] {
  const line = (field: keyof Step, label: string, text: string) => ({ field, label, text });
  // With limits the time stands among the settings.
  const timeHasLimits = step.settings.some(({ quantity }) => quantity === 'durationS');
  return [
    line('title', 'Title', step.title),
    line('kind', 'Kind', stepKindNames[step.kind]),
    line('contents', 'In', step.contents === null ? '' : contentsNames[step.contents]),
    line('durationS', 'Time', step.durationS === 0 || timeHasLimits ? '' : duration(step.durationS)),
    line('dripS', 'Drip', step.dripS === 0 ? '' : duration(step.dripS)),
    ...step.settings.map((setting) => line('settings', labelOf(setting.quantity), settingText(setting))),
    ...electricalLines(step),
    line('instructions', 'Instructions', step.instructions),
    line('record', 'Record', step.record.map((quantity) => stepQuantities[quantity].label).join(', ')),
    ...step.cautions.map((caution) => line('cautions', 'Caution', caution)),
  ].filter(({ text }) => text !== '');
}

function electricalLines({ electrical }: Step): StepLine[] {
  if (electrical === null) return [];
  const { mode, programme, timeConstantS } = electrical;
  const line = (label: string, text: string) => ({ field: 'electrical' as const, label, text });
  const density = (value: number) => format.quantity('currentDensity', value);
  const stages = programme.map(
    ({ kind, to, seconds }) =>
      `${kind} ${kind === 'ramp' ? 'to' : 'at'} ${levelText(mode, to)} for ${duration(seconds)}`,
  );
  return [
    line(mode === 'voltage' ? 'Voltage programme' : 'Current programme', stages.join(', then ')),
    line(
      'Current density',
      `${density(electrical.peakCurrentDensityAPerM2)} at first, ${density(electrical.steadyCurrentDensityAPerM2)} in the end${timeConstantS === null ? '' : `, falling with a time constant of ${duration(timeConstantS)}`}`,
    ),
    line('Average voltage', format.quantity('voltage', electrical.averageVoltageV)),
    line(
      'Charge',
      electrical.chargeCPerM2 === null ? '' : format.quantity('chargeDensity', electrical.chargeCPerM2),
    ),
  ];
}
