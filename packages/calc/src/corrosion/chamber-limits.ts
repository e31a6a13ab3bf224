import { checkName, checkNumber } from '../check.ts';

export interface ChamberRange {
  low: number;
  high: number;
}

/** What is read of a chamber or a bath of a test, and the range each should stay in; null where nothing is asked. */
export interface ChamberLimits {
  temperatureC: ChamberRange | null;
  /** Of the collected solution, at 25 °C. */
  pH: ChamberRange | null;
  /** Per horizontal collecting area of 80 cm². */
  collectionMlPerHour: ChamberRange | null;
  /** Sodium chloride in the collected solution. */
  saltGPerL: ChamberRange | null;
}
export type ChamberFigure = keyof ChamberLimits;

const spray = { collectionMlPerHour: { low: 1, high: 2 }, saltGPerL: { low: 45, high: 55 } };
const limits = {
  'neutral-salt-spray': { temperatureC: { low: 33, high: 37 }, pH: { low: 6.5, high: 7.2 }, ...spray },
  'acetic-salt-spray': { temperatureC: { low: 33, high: 37 }, pH: { low: 3.1, high: 3.3 }, ...spray },
  'copper-acetic-salt-spray': { temperatureC: { low: 48, high: 52 }, pH: { low: 3.1, high: 3.3 }, ...spray },
  humidity: {
    ...{ temperatureC: { low: 37, high: 43 }, pH: null },
    ...{ collectionMlPerHour: null, saltGPerL: null },
  },
} as const satisfies Record<string, ChamberLimits>;
export type ChamberMethod = keyof typeof limits;

/** The tests whose chamber has ranges of its own. */
export const chamberMethods = Object.keys(limits) as ChamberMethod[];

/**
 * Ranges that the chamber of a test should keep to, to begin with: the edition of the standard that the test names
 * decides, and so does who holds it in hand.
 *
 * Source: ISO 9227 for the salt sprays, ISO 6270-2 (constant condensation) for humidity, both from memory.
 * Errors: `unknown`.
 *
 * @example
 * chamberLimits({ method: 'neutral-salt-spray' })
 * // { temperatureC: { low: 33, high: 37 }, pH: { low: 6.5, high: 7.2 }, collectionMlPerHour: { low: 1, high: 2 }, saltGPerL: { low: 45, high: 55 } }
 */
export function chamberLimits({ method }: { method: ChamberMethod }): ChamberLimits {
  return limits[checkName('method', method, chamberMethods)];
}

/**
 * Which figures of a chamber reading lie outside their range. A figure on the edge is inside; one that was not read, or
 * has no range, is not judged.
 *
 * Errors: `not-finite`.
 *
 * @example
 * chamberFaults({ reading: { temperatureC: 38.2, pH: 6.9 }, limits: chamberLimits({ method: 'neutral-salt-spray' }) })
 * // ['temperatureC']
 */
export function chamberFaults(input: {
  reading: { readonly [Figure in ChamberFigure]?: number | null };
  limits: ChamberLimits;
}): ChamberFigure[] {
  const figures: ChamberFigure[] = ['temperatureC', 'pH', 'collectionMlPerHour', 'saltGPerL'];
  return figures.filter((figure) => {
    const range = input.limits[figure];
    const low = range === null ? -Infinity : checkNumber(`limits.${figure}.low`, range.low);
    const high = range === null ? Infinity : checkNumber(`limits.${figure}.high`, range.high);
    const value = input.reading[figure] ?? null;
    if (value === null) return false;
    const read = checkNumber(`reading.${figure}`, value);
    return read < low || read > high;
  });
}
