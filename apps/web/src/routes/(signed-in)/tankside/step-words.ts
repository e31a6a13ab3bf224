import { stepQuantities, type StepQuantity, type TravelerStep } from '@huelot/contracts';
import { shown } from '$lib/shown.ts';

/** A figure of a step in the units of whoever reads it. */
export function figureText(quantity: StepQuantity, value: number | null): string {
  if (value === null) return '–';
  const { shownAs } = stepQuantities[quantity];
  return shownAs === null ? String(value) : shown.quantity(shownAs, value);
}

export const labelOf = (quantity: StepQuantity): string => {
  const { label } = stepQuantities[quantity];
  return label.charAt(0).toUpperCase() + label.slice(1);
};

/** `29 to 31 V`, `at most 65 °C`, or nothing where there are no limits. */
export function limitsText(setting: TravelerStep['settings'][number]): string {
  const { quantity, low, high } = setting;
  if (low !== null && high !== null) return `${figureText(quantity, low)} to ${figureText(quantity, high)}`;
  if (low !== null) return `at least ${figureText(quantity, low)}`;
  return high === null ? '' : `at most ${figureText(quantity, high)}`;
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
