import { toDisplay, type Quantity, type SystemOfUnits } from '@huelot/calc';
import { groupDigits, stepQuantities, type StepQuantity, type StepSetting } from '@huelot/contracts';

/** How figures, days and money are printed on a paper: as was chosen for the customer or the shop, not for who prints. */
export interface Reader {
  units: SystemOfUnits;
  timeZone: string;
}

/**
 * A stored value with its unit, as pages write it; it does not break at the end of a line.
 *
 * @example
 * figure('area', 42_000, 'metric') // '4.20 dm²'
 */
export function figure(quantity: Quantity, value: number, system: SystemOfUnits): string {
  const { text, symbol } = toDisplay({ quantity, value, system });
  return `${groupDigits(text)}\u00a0${symbol}`;
}

/** A figure of a step; a bare number where it has no unit. */
export function stepFigure(quantity: StepQuantity, value: number | null, system: SystemOfUnits): string {
  if (value === null) return '–';
  const { shownAs } = stepQuantities[quantity];
  return shownAs === null ? groupDigits(String(value)) : figure(shownAs, value, system);
}

/** `30.0 V (29.0 to 31.0)` */
export function settingText({ quantity, target, low, high }: StepSetting, system: SystemOfUnits): string {
  const limits =
    low !== null && high !== null
      ? `${stepFigure(quantity, low, system)} to ${stepFigure(quantity, high, system)}`
      : low !== null
        ? `at least ${stepFigure(quantity, low, system)}`
        : high === null
          ? ''
          : `at most ${stepFigure(quantity, high, system)}`;
  const wanted = target === null ? '' : stepFigure(quantity, target, system);
  return [stepQuantities[quantity].label, wanted, limits && (wanted ? `(${limits})` : limits)]
    .filter(Boolean)
    .join(' ');
}

/** `1 Apr 2026` */
export const dayText = (day: string): string =>
  new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeZone: 'UTC' }).format(
    new Date(`${day.slice(0, 10)}T00:00:00Z`),
  );

/** `1 Apr 2026, 14:05` on the shop's clock. */
export const instantText = (at: string | Date, timeZone: string): string =>
  new Intl.DateTimeFormat('en-GB', { dateStyle: 'medium', timeStyle: 'short', timeZone }).format(
    new Date(at),
  );

/** Seconds as a floor reads them: `10 min`, `1 min 30 s`, `2 h 05 min`. */
export function timeText(seconds: number): string {
  const [h, m, s] = [Math.floor(seconds / 3600), Math.floor(seconds / 60) % 60, seconds % 60];
  if (h > 0) return `${h}\u00a0h ${String(m).padStart(2, '0')}\u00a0min`;
  return [m > 0 ? `${m}\u00a0min` : '', s > 0 ? `${s}\u00a0s` : ''].filter(Boolean).join(' ') || '–';
}
