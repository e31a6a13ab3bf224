import { checkName, checkNumber } from '../check.ts';

/**
 * Allowed current density: the rule of the US electrical code for auxiliary gutters, 1000 A/in2 in copper and 700 A/in2 in
 * aluminium, as trade pages repeat it (P). Resistivity at 20 °C: copper 1.724e-8, aluminium 2.82e-8 ohm m (from memory).
 */
const CONDUCTORS = {
  copper: { allowedAPerMm2: 1000 / 645.16, resistivityOhmM: 1.724e-8 },
  aluminium: { allowedAPerMm2: 700 / 645.16, resistivityOhmM: 2.82e-8 },
} as const;

type ConductorMetal = keyof typeof CONDUCTORS;

/**
 * Whether a bus bar or cable carries a current, and the voltage it takes from the cell. `lengthM` is the whole loop, there
 * and back. A first look only: the local electrical code and a licensed electrician decide.
 *
 * Units: A, mm2, m, V, W. Source: electrical code as repeated in the trade (P); resistivities from memory (M). Errors:
 * `unknown` for the metal, `not-finite`, `out-of-range`.
 *
 * @example
 * conductorCheck({ currentA: 600, crossSectionMm2: 387, lengthM: 6, metal: 'copper' })
 * // { currentDensityAPerMm2: 1.5504, fits: false, smallestCrossSectionMm2: 387.096, dropV: 0.160372, lossW: 96.223 }
 */
export function conductorCheck(input: {
  currentA: number;
  crossSectionMm2: number;
  lengthM: number;
  metal: ConductorMetal;
}): {
  currentDensityAPerMm2: number;
  allowedAPerMm2: number;
  fits: boolean;
  smallestCrossSectionMm2: number;
  dropV: number;
  lossW: number;
} {
  const currentA = checkNumber('currentA', input.currentA, { min: 0 });
  const crossSectionMm2 = checkNumber('crossSectionMm2', input.crossSectionMm2, { above: 0 });
  const lengthM = checkNumber('lengthM', input.lengthM, { above: 0 });
  const metal = checkName('metal', input.metal, Object.keys(CONDUCTORS) as ConductorMetal[]);
  const { allowedAPerMm2, resistivityOhmM } = CONDUCTORS[metal];
  const dropV = (resistivityOhmM * lengthM * currentA) / (crossSectionMm2 * 1e-6);
  return {
    currentDensityAPerMm2: currentA / crossSectionMm2,
    allowedAPerMm2,
    fits: currentA / crossSectionMm2 <= allowedAPerMm2,
    smallestCrossSectionMm2: currentA / allowedAPerMm2,
    dropV,
    lossW: dropV * currentA,
  };
}
