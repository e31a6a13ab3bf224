import { checkName, checkNumber } from '../../check.ts';

/** Equivalents per mole in an acid-base titration to the last end point used in this trade. Definition. */
const equivalents = { HCl: 1, HNO3: 1, H2SO4: 2, NaOH: 1, KOH: 1 } as const;
export type TitrantReagent = keyof typeof equivalents;

/**
 * Equivalents per litre of a titrant whose label gives moles per litre: sulfuric acid of 0.5 mol/L is 1 eq/L.
 *
 * Valid for molPerLitre above 0 and up to 20. Source: definition.
 * Errors: `unknown` reagent, `out-of-range` or `not-finite` for the strength.
 *
 * @example
 * normalityFrom({ reagent: 'H2SO4', molPerLitre: 0.5 }) // 1
 */
export function normalityFrom(input: { reagent: TitrantReagent; molPerLitre: number }): number {
  const reagent = checkName('reagent', input.reagent, Object.keys(equivalents) as TitrantReagent[]);
  return equivalents[reagent] * checkNumber('molPerLitre', input.molPerLitre, { above: 0, max: 20 });
}
