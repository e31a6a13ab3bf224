import { checkNumber } from '../check.ts';

/** Aqueous liquids of interest, from below freezing to above boiling; every model flags its own narrower range. */
export const checkTemperature = (argument: string, value: unknown): number =>
  checkNumber(argument, value, { min: -20, max: 200 });

export const checkFraction = (argument: string, value: unknown): number =>
  checkNumber(argument, value, { min: 0, max: 1 });

/** wt% to at most four significant digits, for the sentences of flags and refusals. */
export const percent = (massFraction: number): string => `${Number((massFraction * 100).toPrecision(4))} wt%`;
