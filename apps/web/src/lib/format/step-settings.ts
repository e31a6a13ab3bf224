import { rangeInWords } from './range.ts';
import { capitalise } from './capitalise.ts';
import { stepQuantities, type StepQuantity, type TravelerStep } from '@huelot/contracts';
import { format } from './format.ts';

/** A figure of a step in the units of whoever reads it. */
export function figureText(quantity: StepQuantity, value: number | null): string {
  if (value === null) return '–';
  const { shownAs } = stepQuantities[quantity];
  return shownAs === null ? String(value) : format.quantity(shownAs, value);
}

export const labelOf = (quantity: StepQuantity): string => capitalise(stepQuantities[quantity].label);

/** `29 to 31 V`, `at most 65 °C`, or nothing where there are no limits. */
export function limitsText(setting: TravelerStep['settings'][number]): string {
  return rangeInWords(setting, (value) => figureText(setting.quantity, value));
}

/** Whether a value breaks the limits that the traveler gives it. */
export function isOutside(
  settings: TravelerStep['settings'],
  quantity: StepQuantity,
  value: number | null,
): boolean {
  const setting = settings.find((one) => one.quantity === quantity);
  if (value === null || setting === undefined) return false;
  return (setting.low !== null && value < setting.low) || (setting.high !== null && value > setting.high);
}
