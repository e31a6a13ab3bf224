/** The side of neutral that a chemical or a bath is on. */
export type ChemicalSide = 'acid' | 'alkali';

const sides: Readonly<Record<string, ChemicalSide>> = {
  KOH: 'alkali',
  NaOH: 'alkali',
  K2CO3: 'alkali',
  Na2CO3: 'alkali',
  Na3PO4: 'alkali',
  totalAlkali: 'alkali',
  H2SO4: 'acid',
  H3PO4: 'acid',
  totalSulfate: 'acid',
};

/**
 * The side of neutral that a component of a bath belongs to; null for what is on neither, or on both.
 *
 * Valid for the names of components that the methods of this package find; any other is null. Source: chemistry. No errors.
 *
 * @example
 * chemicalSide('totalAlkali') // 'alkali'
 */
export const chemicalSide = (component: string): ChemicalSide | null => sides[component] ?? null;

/**
 * Whether a method can be of this bath: an acid titration computes a figure for a caustic bath just as well. Null when it
 * fits or cannot be told; otherwise what was found and what the bath holds.
 *
 * A method is questioned when none of the chemicals that it found is watched in the bath, or, of a bath that is not watched,
 * when they are on the other side of neutral. pH, conductivity, turbidity and looks fit any bath.
 *
 * Source: common practice, no source. No errors.
 *
 * @example
 * methodFit({ found: ['H2SO4'], watched: ['KOH', 'K2CO3'], side: 'alkali' })
 * // { found: ['H2SO4'], expected: ['KOH', 'K2CO3'] }
 */
export function methodFit(input: {
  /** Components that were found. */
  found: readonly string[];
  /** Components that the bath is watched for, its solute among them. */
  watched: readonly string[];
  /** Of the bath by what it holds; null where that is neither. */
  side: ChemicalSide | null;
}): { found: string[]; expected: string[] } | null {
  const found = input.found.filter((component) => chemicalSide(component) !== null);
  if (found.length === 0 || found.some((component) => input.watched.includes(component))) return null;
  const expected = input.watched.filter((component) => chemicalSide(component) !== null);
  if (expected.length > 0) return { found, expected };
  const isOpposite =
    input.side !== null && found.every((component) => chemicalSide(component) !== input.side);
  return isOpposite ? { found, expected } : null;
}
