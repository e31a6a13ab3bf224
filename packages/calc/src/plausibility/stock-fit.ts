import { checkFinite, checkNumber } from '../check.ts';
import { type ChemicalSide, chemicalSide } from './method-fit.ts';

/** What happens when the wrong thing goes in. */
export type MixingDanger =
  | 'acid-into-alkali'
  | 'alkali-into-acid'
  | 'fluoride-into-acid'
  | 'acid-into-fluoride'
  | 'carbonate-into-acid'
  | 'ammonium-into-alkali'
  | 'oxidiser-into-organic'
  | 'unknown-corrosive'
  | 'water-into-acid';

export interface StockOnHand {
  /** The solute it brings; null for what is only weighed in. */
  solute: string | null;
  hazards: readonly string[];
}
export interface BathOnHand {
  solute: string | null;
  /** By what the bath holds; null where that is neither. */
  side: ChemicalSide | null;
  hasFluoride: boolean;
  /** Dye, oil, anything that burns. */
  isOrganic: boolean;
}

const carbonates: readonly (string | null)[] = ['K2CO3', 'Na2CO3'];

/** Sulfuric acid from this strength on boils and spatters where water meets it. Common practice, no source. */
const concentratedAcid = 0.5;

/**
 * What goes wrong when a stock goes into a bath, by compatibility classes, the gravest first; empty when nothing is known
 * against it. The solute a bath is made of always fits. A corrosive that nobody classed is a danger of its own.
 *
 * Source: incompatibility of acids and alkalis, and heat of neutralisation, as in NIOSH Pocket Guide, potassium hydroxide;
 * hydrogen fluoride from fluorides in acid, carbon dioxide from carbonates, ammonia from ammonium salts in alkali: chemistry.
 * Classes and their order are common practice, no source; the safety data sheet decides. No errors.
 *
 * @example
 * mixingDangers({
 *   stock: { solute: 'H2SO4', hazards: ['corrosive'] },
 *   bath: { solute: 'KOH', side: 'alkali', hasFluoride: false, isOrganic: false },
 * })
 * // ['acid-into-alkali']
 */
export function mixingDangers(input: { stock: StockOnHand; bath: BathOnHand }): MixingDanger[] {
  const { stock, bath } = input;
  if (stock.solute !== null && stock.solute === bath.solute) return [];
  const stockSide = stock.solute === null ? null : chemicalSide(stock.solute);
  const bathSide = (bath.solute === null ? null : chemicalSide(bath.solute)) ?? bath.side;
  const bringsFluoride = stock.hazards.includes('fluoride');
  const isKnown = stock.solute !== null || bringsFluoride;
  const dangers: [MixingDanger, boolean][] = [
    ['fluoride-into-acid', bringsFluoride && bathSide === 'acid' && !bath.hasFluoride],
    ['acid-into-fluoride', stockSide === 'acid' && bath.hasFluoride],
    ['acid-into-alkali', stockSide === 'acid' && bathSide === 'alkali'],
    ['alkali-into-acid', stockSide === 'alkali' && bathSide === 'acid'],
    ['carbonate-into-acid', carbonates.includes(stock.solute) && bathSide === 'acid'],
    ['ammonium-into-alkali', stock.solute === 'NH4_2SO4' && bathSide === 'alkali'],
    ['oxidiser-into-organic', stock.hazards.includes('oxidising') && bath.isOrganic],
    ['unknown-corrosive', !isKnown && stock.hazards.includes('corrosive') && bathSide !== null],
  ];
  return dangers.flatMap(([danger, applies]) => (applies ? [danger] : []));
}

/**
 * Whether water may go into a bath: into strong acid it must not, the acid goes into the water. Strong caustic takes water
 * slowly, which its plan says.
 *
 * Valid for massFraction 0 to 1. Source: common practice, no source. Errors: `out-of-range` or `not-finite`.
 *
 * @example
 * waterDangers({ solute: 'H2SO4', massFraction: 0.96 }) // ['water-into-acid']
 */
export function waterDangers(input: { solute: string | null; massFraction: number | null }): MixingDanger[] {
  checkFinite('', input);
  if (input.solute !== 'H2SO4' || input.massFraction === null) return [];
  const massFraction = checkNumber('massFraction', input.massFraction, { min: 0, max: 1 });
  return massFraction >= concentratedAcid ? ['water-into-acid'] : [];
}
