import { checkNumber } from '../check.ts';

/** What went into the baths of a line of work, of one chemical at one price. */
export interface ChemicalUse {
  kg: number;
  /** Share of the bare solute in it; the price is paid for the whole. */
  assayMassFraction: number;
  pricePerKg: number;
}

export interface StockedChemicals {
  uses: readonly ChemicalUse[];
  /** Wetted area that was treated meanwhile. */
  areaM2: number;
  dragOutLPerM2: number;
  concentrationGPerL: number;
  /** Share of the drag-out that is brought back. */
  recoveryShare: number;
}

export interface ChemicalRates {
  /** Of the bare solute, beyond what drag-out takes. */
  consumptionGPerM2: number;
  /** For a kilogram of the bare solute. */
  pricePerKg: number;
  dragOutLPerM2: number;
  concentrationGPerL: number;
  recoveryShare: number;
}

/**
 * The chemicals of a rate card as the stock and the baths tell them: what was put in for each square metre treated, less
 * what drag-out takes by itself, at the mean price of what was used. Amounts and price count the bare solute, because
 * drag-out is reckoned from the g/L of it.
 *
 * Valid for any area above 0 and at least one use with a mass above 0. Where drag-out alone would take more than was put in,
 * nothing is left for consumption: the drag-out of the bath is then set too high.
 * Source: mass balance of a bath held at its strength; priced as `cost-amounts` prices it.
 * Errors: `out-of-range` for an area, mass, share or price that cannot be.
 *
 * @example
 * chemicalsFromStock({
 *   uses: [{ kg: 90, assayMassFraction: 0.9, pricePerKg: 2.7 }],
 *   areaM2: 300,
 *   dragOutLPerM2: 0.25,
 *   concentrationGPerL: 740,
 *   recoveryShare: 0.4,
 * })
 * // { consumptionGPerM2: 159, pricePerKg: 3 }
 */
export function chemicalsFromStock(input: StockedChemicals): ChemicalRates {
  const areaM2 = checkNumber('areaM2', input.areaM2, { above: 0 });
  const dragOutLPerM2 = checkNumber('dragOutLPerM2', input.dragOutLPerM2, { min: 0 });
  const concentrationGPerL = checkNumber('concentrationGPerL', input.concentrationGPerL, { min: 0 });
  const recoveryShare = checkNumber('recoveryShare', input.recoveryShare, { min: 0, max: 1 });
  let soluteKg = 0;
  let cost = 0;
  input.uses.forEach((use, index) => {
    const kg = checkNumber(`uses.${index}.kg`, use.kg, { min: 0 });
    soluteKg +=
      kg * checkNumber(`uses.${index}.assayMassFraction`, use.assayMassFraction, { above: 0, max: 1 });
    cost += kg * checkNumber(`uses.${index}.pricePerKg`, use.pricePerKg, { min: 0 });
  });
  checkNumber('uses', soluteKg, { above: 0 });
  const lostGPerM2 = dragOutLPerM2 * concentrationGPerL * (1 - recoveryShare);
  return {
    consumptionGPerM2: Math.max(0, (1000 * soluteKg) / areaM2 - lostGPerM2),
    pricePerKg: cost / soluteKg,
    dragOutLPerM2,
    concentrationGPerL,
    recoveryShare,
  };
}
