import { density } from '@huelot/calc';
import type { ChemicalLot, PlannedStep, Solute, StepAction } from '@huelot/contracts';

/** Water at 20 °C, kg in a litre. */
const water = 0.9982;

interface Known {
  action: StepAction;
  lot?: ChemicalLot | undefined;
  /** What stands in the tank, where its strength is known. */
  bath?: { solute: Solute; massFraction: number; temperatureC: number } | null;
  /** The planned step: its kilograms and litres belong together. */
  step?: Pick<PlannedStep, 'kg' | 'volumeL'> | undefined;
}

/**
 * Kilograms in a litre of what is moved in a step; null for a solid, or where nobody knows.
 *
 * @example
 * kgPerLitre({ action: 'decant', step: { kg: 10.32, volumeL: 9.39 } }) // 1.099
 */
export function kgPerLitre({ action, lot, bath, step }: Known): number | null {
  if (action === 'add-water') return water;
  if (action === 'add-stock') return stockKgPerLitre(lot);
  if (action !== 'decant') return null;
  if (step && step.volumeL !== null && step.volumeL > 0 && step.kg > 0) return step.kg / step.volumeL;
  return bath ? density(bath).kgPerM3 / 1000 : null;
}

function stockKgPerLitre(lot: ChemicalLot | undefined): number | null {
  if (lot?.form !== 'liquid') return null;
  if (lot.densityKgPerM3 !== null) return lot.densityKgPerM3 / 1000;
  if (lot.solute === null) return null;
  return (
    density({ solute: lot.solute, massFraction: lot.assayMassFraction, temperatureC: 20 }).kgPerM3 / 1000
  );
}
