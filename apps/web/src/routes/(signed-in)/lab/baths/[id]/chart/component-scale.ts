import { type SystemOfUnits, toDisplay } from '@huelot/calc';
import type { ComponentUnit } from '@huelot/contracts';
import { groupDigits } from '$lib/units/number.ts';
import { quantityOf, uncertainResultText, unitSymbol } from '$lib/lab/result-words.ts';

/** How the figures of one component are drawn and written for one person. */
export interface ComponentScale {
  /** The unit as printed; empty for pH and judgements. */
  symbol: string;
  /** A stored figure in the unit shown, not rounded. */
  shown: (value: number) => number;
  /** With its unit, and with what covers about 95 % where its standard uncertainty is given. */
  text: (value: number, standardUncertainty?: number) => string;
  /** To three significant figures, for differences that the usual decimals would swallow. */
  fine: (value: number) => string;
}

/**
 * The scale of a component's figures in the units of the person.
 *
 * @example
 * componentScale({ unit: 'massFraction', system: 'metric' }).shown(0.4912) // 49.12
 */
export function componentScale(how: { unit: ComponentUnit; system: SystemOfUnits }): ComponentScale {
  const quantity = quantityOf(how.unit);
  const symbol = unitSymbol(how.unit, how.system);
  // Every unit of a component is a multiple of the stored one, and thousands of points are drawn at once.
  const perStored = quantity ? toDisplay({ quantity, value: 1, system: how.system }).value : 1;
  const shown = (value: number) => value * perStored;
  return {
    symbol,
    shown,
    text: (value, standardUncertainty) => uncertainResultText({ ...how, value, standardUncertainty }),
    fine: (value) => groupDigits(String(Number(shown(value).toPrecision(3)))) + (symbol && `\u00a0${symbol}`),
  };
}
