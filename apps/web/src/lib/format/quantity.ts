import { fromDisplay, type Quantity, type SystemOfUnits, toDisplay } from '@huelot/calc';
import { groupDigits } from '@huelot/contracts';
import { readMeasure } from './measure.ts';
import { parseNumber } from './number.ts';

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
export function quantityParts(input: Asked): { figure: string; unit: string } {
  const { text, symbol } = toDisplay(input);
  return { figure: groupDigits(text), unit: symbol };
}

/**
 * A stored value with its unit, in one piece of text that does not break.
 *
 * @example
 * quantityText({ quantity: 'area', value: 42_000, system: 'metric' }) // '4.20 dm²'
 */
export function quantityText(input: Asked): string {
  const { figure, unit } = quantityParts(input);
  return `${figure}\u00a0${unit}`;
}

/**
 * A refusal whose bounds are in the stored unit, in the units of the person.
 *
 * @example
 * boundsInUnits('must be at most 150', { quantity: 'temperature', system: 'us' }) // 'must be at most 302.0 °F'
 */
export const boundsInUnits = (message: string, shown: Omit<Asked, 'value'>): string =>
  message.replace(
    /\b(at least|at most|more than|less than) (-?\d+(?:\.\d+)?(?:e[+-]?\d+)?)(?![\d.]*\s*(?!and\b)[\p{L}°%])/gu,
    (_, bound: string, value: string) => `${bound} ${quantityText({ ...shown, value: Number(value) })}`,
  );

/**
 * What a typed text means in the stored unit: a number, a fraction, or a figure with a unit of its own. Text that shows the stored value gives that very value back, so opening
 * and saving a form changes nothing in whichever units it was opened.
 *
 * @example
 * readQuantity('68', { quantity: 'temperature', system: 'us', stored: null }) // { value: 20 }
 */
export function readQuantity(
  text: string,
  input: { quantity: Quantity; system: SystemOfUnits; stored: number | null },
): { value: number | null; fault?: string } {
  const plain = parseNumber(text);
  const typed = 'fault' in plain && /[^\d\s.,+−-]/.test(text) ? (readMeasure(text, input) ?? plain) : plain;
  if ('fault' in typed) return { value: null, fault: typed.fault };
  if ('empty' in typed) return { value: null };
  try {
    return { value: fromDisplay({ ...input, value: typed.number }) };
  } catch {
    return { value: null, fault: `${text.trim()} is outside what this quantity can be.` };
  }
}
