import { checkName, checkNumber } from '../check.ts';

/**
 * Voltage that the reaction itself takes up as heat of formation, V: water splitting 1.48 (thermoneutral voltage, M);
 * 2 Al + 3 H2O -> Al2O3 + 3 H2 sets 818 kJ/mol free over six electrons, so -1.41 (D from standard enthalpies, M);
 * magnetite +25 kJ/mol over eight electrons, 0.03, taken as nothing.
 */
const REACTION_V = { 'water-splitting': 1.48, 'aluminium-oxide': -1.41, magnetite: 0 } as const;

type Reaction = keyof typeof REACTION_V;

/**
 * Heat that a current leaves in the bath: current × (cell voltage - voltage the reaction takes up × its share of the
 * current). Current times voltage is the bound for everything but aluminium, whose oxide gives off heat of its own.
 *
 * Units: A (0 or more), V, share 0 to 1 (1 unless given), W. Source: enthalpies of reaction, from memory, marked above.
 * Errors: `unknown` for the reaction, `not-finite`, `out-of-range`.
 *
 * @example
 * electrolysisHeat({ currentA: 350, cellVoltageV: 2.6, reaction: 'water-splitting' }) // { heatW: 392, electricalW: 910 }
 */
export function electrolysisHeat(input: {
  currentA: number;
  cellVoltageV: number;
  reaction: Reaction;
  share?: number | undefined;
}): { heatW: number; electricalW: number } {
  const currentA = checkNumber('currentA', input.currentA, { min: 0 });
  const voltageV = checkNumber('cellVoltageV', input.cellVoltageV, { min: 0 });
  const reaction = checkName('reaction', input.reaction, Object.keys(REACTION_V) as Reaction[]);
  const share = checkNumber('share', input.share ?? 1, { min: 0, max: 1 });
  return {
    heatW: Math.max(0, currentA * (voltageV - REACTION_V[reaction] * share)),
    electricalW: currentA * voltageV,
  };
}
