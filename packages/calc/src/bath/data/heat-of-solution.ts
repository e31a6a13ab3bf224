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

export interface IntegralHeat {
  /** Mol of solute per mol of water, and the heat that each of them has then given off since it was solid, kJ/mol. */
  points: Table;
  /** D derived from a publication, M from memory. */
  evidence: 'D' | 'M';
  /** Said beside every figure that rests on it. */
  estimate: string;
}

/**
 * Heat given off up to a strength, for what is to be expected. Between the points straight in mol per mol of water,
 * which is molality: so goes the heat of dilution of a strong electrolyte.
 * KOH: infinite dilution by Parker 1965 (P); 50 wt%, 3.11 mol of water per mol, derived from the slope of the water
 * activity of Balej 1985, scaled as the same treatment of NaOH stands to its table (D); the line is carried on to
 * 53 wt%, about where KOH is saturated at 20 °C, since baths are run at 50. It puts the last
 * increment into 50 wt% at 57.61 - 2 (57.61 - 48) = 38.4 kJ/mol; the same derivation has 39 +-5.
 * NaOH: textbook table from memory, its own infinite dilution included (M); it ends at 42.5 wt%.
 */
export const integralHeat: Readonly<Partial<Record<string, IntegralHeat>>> = {
  KOH: { points: [[0, 57.61], [1 / 3.11, 48], [1 / 2.76, 46.78]], evidence: 'D', estimate: '48 ± 4 kJ/mol at 50 wt%' },
  NaOH: {
    points: [[0, 42.89], [1 / 100, 42.34], [1 / 50, 42.51], [1 / 20, 42.84], [1 / 10, 42.51], [1 / 5, 37.74], [1 / 4, 34.43], [1 / 3, 28.87]],
    evidence: 'M',
    estimate: 'a textbook table from memory',
  },
};
