import type { BaseMetal } from '../base-metals.ts';
import { findIncompatibility } from './forbidden-contents.ts';
import type { Electrical, TankContents } from '../steps.ts';

/** What the metals of a part and its rack are held against: one step of a route. */
export interface RouteStepMetals {
  position: number;
  contents: TankContents | null;
  electrical: Electrical | null;
}

/** A step that a part or a rack must not go through. */
export interface MetalStop {
  readonly position: number;
  readonly why: string;
}

/**
 * Metals that cover themselves with an oxide as anodes. The film stops the current on the rack as it does on the work;
 * every other metal goes on carrying it, and dissolves.
 */
const filmForming: readonly BaseMetal[] = ['titanium', 'niobium', 'tantalum', 'zirconium', 'aluminium'];

/**
 * Steps of a route whose bath attacks the metal of a part; an empty list is no permission, only no known reason against it.
 *
 * @example
 * partStops('aluminium', [{ position: 4, contents: 'hot-caustic', electrical: null }]) // one stop, at step 4
 */
export const partStops = (baseMetal: BaseMetal, steps: readonly RouteStepMetals[]): MetalStop[] =>
  steps.flatMap(({ position, contents }) => {
    const pair = contents === null ? null : findIncompatibility({ baseMetal, contents });
    return pair === null ? [] : [{ position, why: pair.why }];
  });

/**
 * Steps that a rack of one metal must not go through with work of another: baths that attack the rack, and electrolytic
 * steps of a film-forming metal on a rack that forms no film. There the rack takes the current of the work, dissolves,
 * fouls the bath and can drop the work.
 *
 * @example
 * rackStops({ rackMetal: 'steel', partMetal: 'titanium', steps }) // a stop at every electrolytic step
 */
export function rackStops(input: {
  rackMetal: BaseMetal;
  partMetal: BaseMetal;
  steps: readonly RouteStepMetals[];
}): MetalStop[] {
  const { rackMetal, partMetal, steps } = input;
  const attacked = partStops(rackMetal, steps);
  if (!filmForming.includes(partMetal) || filmForming.includes(rackMetal)) return attacked;
  const dissolved = steps
    .filter(({ electrical }) => electrical !== null)
    .map(({ position }) => ({
      position,
      why: `${rackMetal} takes the current in place of the ${partMetal}, dissolves and spoils the bath; use a rack of titanium, or of aluminium where the bath allows it (common practice, no source)`,
    }));
  return [...attacked, ...dissolved].sort((a, b) => a.position - b.position);
}

/**
 * A stop as a sentence that names the metal, the step and the reason.
 *
 * @example
 * metalStopText({ subject: 'Rack RK-2', baseMetal: 'steel', stop })
 */
export const metalStopText = (input: { subject: string; baseMetal: BaseMetal; stop: MetalStop }): string =>
  `${input.subject} is ${input.baseMetal} and must not go into step ${input.stop.position}: ${input.stop.why}.`;
