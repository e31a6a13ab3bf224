import { fromDisplay, type Quantity, type SystemOfUnits, toDisplay } from '@huelot/calc';
import { groupDigits, parseNumber } from './number.ts';

interface Asked {
  quantity: Quantity;
  value: number;
  system: SystemOfUnits;
}

/**
 * A stored value as its two printed parts.
 *
 * @example
 * quantityParts({ quantity: 'temperature', value: 20, system: 'us' }) // { figure: '68.0', unit: '°F' }
 */
export function quantityParts(asked: Asked): { figure: string; unit: string } {
  const { text, symbol } = toDisplay(asked);
  return { figure: groupDigits(text), unit: symbol };
}

/**
 * A stored value with its unit, in one piece of text that does not break.
 *
 * @example
 * quantityText({ quantity: 'area', value: 42_000, system: 'metric' }) // '4.20 dm²'
 */
export function quantityText(asked: Asked): string {
  const { figure, unit } = quantityParts(asked);
  return `${figure}\u00a0${unit}`;
}

/**
 * What a typed text means in the stored unit. Text that shows the stored value gives that very value back, so opening
 * and saving a form changes nothing in whichever units it was opened.
 *
 * @example
 * readQuantity('68', { quantity: 'temperature', system: 'us', stored: null }) // { value: 20 }
 */
export function readQuantity(
  text: string,
  given: { quantity: Quantity; system: SystemOfUnits; stored: number | null },
): { value: number | null; fault?: string } {
  const typed = parseNumber(text);
  if ('fault' in typed) return { value: null, fault: typed.fault };
  if ('empty' in typed) return { value: null };
  try {
    return { value: fromDisplay({ ...given, value: typed.number }) };
  } catch {
    return { value: null, fault: `${text.trim()} is outside what this quantity can be.` };
  }
}
