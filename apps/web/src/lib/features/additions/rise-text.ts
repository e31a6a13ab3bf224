import { toDisplay } from '@huelot/calc';
import { session } from '$lib/session.svelte.ts';
import { format } from '$lib/format/format.ts';

/** An estimate is worth no more. */
const figures = 2;

/**
 * How much a bath warms, in words: what to expect where that is known, and what warnings go by.
 *
 * @example
 * riseText({ riseK: 3.45, expectedRiseK: 2.55 }) // 'about 2.5 K, at most 3.5 K'
 * riseText({ riseK: 3.45, expectedRiseK: null }) // 'at most 3.5 K'
 */
export function riseText(input: { riseK: number; expectedRiseK?: number | null | undefined }): string {
  const most = `at most ${format.quantity('temperatureRise', input.riseK)}`;
  if (typeof input.expectedRiseK !== 'number') return most;
  const { value, symbol } = toDisplay({
    quantity: 'temperatureRise',
    value: input.expectedRiseK,
    system: session.units,
  });
  return `about ${Number(value.toPrecision(figures))}\u00a0${symbol}, ${most}`;
}

/** Whether a warming is known and would be noticed: a tenth of a kelvin. */
export const worthSaying = (riseK: number | null): riseK is number => riseK !== null && riseK >= 0.1;
