import type { Table } from '../interpolate.ts';

/**
 * Heat given off when a solute goes into water, kJ/mol. `infinite`: into very much water at 25 °C. KOH and NaOH:
 * Parker, NSRDS-NBS 2 (1965), evidence P; H2SO4: textbook value from memory, evidence M. `given`: what a liquid
 * with so many mol of water per mol has given off already; between its points straight lines stay below the curve,
 * which overstates what is left (safe side). KOH: -48 +-4 at 50 wt%, derived from Balej 1985, lower end taken,
 * evidence D; NaOH and H2SO4: textbook tables from memory, evidence M.
 */
export const heatOfSolution: Readonly<Record<string, { infinite: number; given: Table }>> = {
  KOH: { infinite: 57.61, given: [[0, 0], [3.11, 44]] },
  NaOH: { infinite: 44.51, given: [[0, 0], [3, 28.87], [4, 34.43], [5, 37.74], [10, 42.51], [20, 42.84], [50, 42.51], [100, 42.34]] },
  H2SO4: { infinite: 96.19, given: [[0, 0], [1, 28.07], [2, 41.92], [5, 58.03], [10, 67.03], [20, 71.5], [50, 73.34]] },
};
