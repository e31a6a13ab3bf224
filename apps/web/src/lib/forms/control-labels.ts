import { type Quantity, QUANTITY_NAMES, type SystemOfUnits } from '@huelot/calc';
import { quantityParts } from '../format/quantity.ts';

/** How a field shows what it holds: a figure in the units of the person, a choice by its name. */
export interface Shown {
  quantity?: Quantity | undefined;
  choices?: ReadonlyMap<string, string>;
}

/**
 * A value as its field shows it. The unit is left to the label, which names it.
 *
 * @example
 * valueInWords(1219.2, { quantity: 'length', system: 'us' }) // '48.000'
 */
export function valueInWords(value: unknown, input: Shown & { system: SystemOfUnits }): string {
  if (value === null || value === undefined || value === '') return '–';
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  if (Array.isArray(value)) return value.map((one) => valueInWords(one, input)).join(', ');
  const { quantity, system, choices } = input;
  if (typeof value === 'number' && quantity) return quantityParts({ quantity, value, system }).figure;
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return choices?.get(text) ?? text;
}

type Control = HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement;
const isControl = (found: unknown): found is Control =>
  found instanceof HTMLInputElement ||
  found instanceof HTMLSelectElement ||
  found instanceof HTMLTextAreaElement;

/** The controls of a form that carry a name: one, or one for each choice. */
export function controlsAt(form: HTMLFormElement, name: string): Control[] {
  const found = form.elements.namedItem(name);
  return (found instanceof RadioNodeList ? [...found] : [found]).filter(isControl);
}

/** What the person reads beside a field; nothing when it is not on the screen. */
export function labelOf(controls: readonly Control[]): string | undefined {
  const [first, second] = controls;
  return second === undefined
    ? ownLabel(first)
    : first?.closest('fieldset')?.querySelector('legend')?.textContent.trim();
}
const ownLabel = (control: Control | undefined) => control?.labels?.[0]?.firstChild?.textContent?.trim();

/** How a field on the screen shows what it holds. */
export function shownBy(controls: readonly Control[]): Shown {
  const [first] = controls;
  if (first instanceof HTMLSelectElement) {
    return { choices: new Map([...first.options].map(({ value, text }) => [value, text])) };
  }
  if (controls.length > 1) {
    return { choices: new Map(controls.map((one) => [one.value, ownLabel(one) ?? one.value])) };
  }
  return { quantity: QUANTITY_NAMES.find((name) => name === first?.dataset['quantity']) };
}
