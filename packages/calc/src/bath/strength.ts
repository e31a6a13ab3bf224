import { checkNumber } from '../check.ts';
import { liquidEndsAt } from './data/solubility.ts';
import type { DissolvedSalt } from './solutes.ts';

/** A mass fraction at which the solute can be a liquid; past it the density model would weigh what cannot be. */
export const checkStrength = (argument: string, value: unknown, solute: DissolvedSalt): number =>
  checkNumber(argument, value, { min: 0, max: liquidEndsAt[solute] });
