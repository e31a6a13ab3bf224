import type { BaseMetal } from '../base-metals.ts';
import type { TankContents } from '../steps.ts';

/** A metal that must never go into a kind of bath, and how that is known. */
export interface ForbiddenPair {
  readonly baseMetal: BaseMetal;
  readonly contents: TankContents;
  readonly why: string;
  readonly source: string;
  readonly evidence: 'P' | 'C';
}

const producer =
  'A producer of 50% caustic soda: reacts readily with aluminium, magnesium, zinc, tin, chromium, bronze, brass, copper and tantalum; avoid galvanized parts';
const eaten = 'caustic eats it, sets hydrogen free and the bath can boil over';
const attacked = 'caustic dissolves its oxide and attacks the metal';

/**
 * What must never happen to each base metal. Aluminium is etched in dilute caustic on purpose, so that bath is open to
 * it and closed to the others. Pairs about which nothing was found in print are not listed: no refusal is no permission.
 */
export const forbiddenContents: readonly ForbiddenPair[] = [
  { baseMetal: 'aluminium', contents: 'hot-caustic', why: eaten, source: producer, evidence: 'P' },
  { baseMetal: 'magnesium', contents: 'hot-caustic', why: eaten, source: producer, evidence: 'P' },
  { baseMetal: 'zinc', contents: 'hot-caustic', why: eaten, source: producer, evidence: 'P' },
  { baseMetal: 'tin', contents: 'hot-caustic', why: eaten, source: producer, evidence: 'P' },
  { baseMetal: 'copper', contents: 'hot-caustic', why: attacked, source: producer, evidence: 'P' },
  { baseMetal: 'tantalum', contents: 'hot-caustic', why: attacked, source: producer, evidence: 'P' },
  {
    baseMetal: 'niobium',
    contents: 'hot-caustic',
    why: attacked,
    source: 'Common practice, no source: niobium is kept out as tantalum is',
    evidence: 'C',
  },
  { baseMetal: 'magnesium', contents: 'alkaline-etch', why: eaten, source: producer, evidence: 'P' },
  { baseMetal: 'zinc', contents: 'alkaline-etch', why: eaten, source: producer, evidence: 'P' },
  { baseMetal: 'tin', contents: 'alkaline-etch', why: eaten, source: producer, evidence: 'P' },
  { baseMetal: 'copper', contents: 'alkaline-etch', why: attacked, source: producer, evidence: 'P' },
  { baseMetal: 'tantalum', contents: 'alkaline-etch', why: attacked, source: producer, evidence: 'P' },
  {
    baseMetal: 'niobium',
    contents: 'alkaline-etch',
    why: attacked,
    source: 'Common practice, no source: niobium is kept out as tantalum is',
    evidence: 'C',
  },
];

/**
 * Why a metal must not go into a bath, or `null` where nothing is known against it. The safety data sheet of the bath
 * and a trained person decide; this only refuses what is known to end badly.
 *
 * @example
 * findIncompatibility({ baseMetal: 'tantalum', contents: 'hot-caustic' })?.why
 * findIncompatibility({ baseMetal: 'steel', contents: 'hot-caustic' }) // null
 */
export const findIncompatibility = ({
  baseMetal,
  contents,
}: {
  baseMetal: BaseMetal;
  contents: TankContents;
}): ForbiddenPair | null =>
  forbiddenContents.find((pair) => pair.baseMetal === baseMetal && pair.contents === contents) ?? null;
