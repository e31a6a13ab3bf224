import { StepQuantity } from '@huelot/contracts';

/** A condition on one figure of a step; either bound may be open. */
export interface Range {
  quantity: StepQuantity;
  min: number | null;
  max: number | null;
}

const bound = (text: string | undefined) => (text === undefined || text === '' ? null : Number(text));

/**
 * What the address says, as conditions.
 *
 * @example
 * rangesOf('voltageV:28:32') // [{ quantity: 'voltageV', min: 28, max: 32 }]
 */
export const rangesOf = (settings: string | undefined): Range[] =>
  (settings ?? '').split(',').flatMap((one) => {
    const [name, min, max] = one.split(':');
    const quantity = StepQuantity.safeParse(name);
    return quantity.success ? [{ quantity: quantity.data, min: bound(min), max: bound(max) }] : [];
  });

/**
 * Conditions as the address says them; those without any bound say nothing.
 *
 * @example
 * settingsText([{ quantity: 'voltageV', min: 28, max: null }]) // 'voltageV:28:'
 */
export const settingsText = (ranges: Range[]): string =>
  ranges
    .filter(({ min, max }) => min !== null || max !== null)
    .map(({ quantity, min, max }) => `${quantity}:${min ?? ''}:${max ?? ''}`)
    .join(',');
