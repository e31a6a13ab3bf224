import { checkNumber } from '../check.ts';
import { CalcError } from '../errors.ts';

/**
 * 720 A min/ft2 make one mil (trade press, rule of 720): 720 / (0.09290304 m2 × 25.4 um) in A min/(m2 um). A "312" in
 * metric shops is 2.3 per cent larger; no publication of it was found.
 */
export const RULE_CONSTANT = 720 / (0.09290304 * 25.4);

/** The current densities of the published times, 12 to 40 A/ft2. */
const PUBLISHED_A_PER_M2 = { low: 12 / 0.09290304, high: 40 / 0.09290304 } as const;
/** The published times are for one mil. */
const PUBLISHED_UM = 25.4;

interface Conditions {
  currentDensityAPerM2: number;
  /** A min/(m2 um); a shop's own figure from its own records. */
  ruleConstant?: number | undefined;
  /** Says what the work is; anything but aluminium is refused. */
  metal?: string | undefined;
}

/**
 * Time at constant current for a thickness of anodic coating on aluminium in sulfuric acid: constant × thickness /
 * density. It counts fresh growth near 20 °C in 165 to 200 g/L; long or warm cycles dissolve more and fall below it.
 *
 * For aluminium only: on titanium, niobium, tantalum and zirconium the voltage sets the thickness, and on steel most of
 * the charge makes oxygen.
 *
 * Units: um (0 or more), A/m2 of coated area, s; `ruleConstant` in A min/(m2 um), 305.12 unless given, 250 to 400.
 * Source: rule of 720, trade press (P); metric form derived. Outside 12 to 40 A/ft2 (129 to 431 A/m2) or above one mil
 * the result carries a flag. Errors: `not-finite`, `out-of-range`, `impossible` for another metal.
 *
 * @example
 * anodizingTime({ thicknessUm: 15, currentDensityAPerM2: 150 }) // { timeS: 1830.71, flags: [] }
 */
export function anodizingTime(input: Conditions & { thicknessUm: number }): {
  timeS: number;
  flags: string[];
} {
  const thicknessUm = checkNumber('thicknessUm', input.thicknessUm, { min: 0, max: 500 });
  const { density, constant } = checkConditions(input);
  return { timeS: (60 * constant * thicknessUm) / density, flags: flagsOf(density, thicknessUm) };
}

/**
 * Thickness of anodic coating on aluminium after a time at constant current, the inverse of {@link anodizingTime}; units,
 * source, flags and errors as there.
 *
 * @example
 * anodizingThickness({ timeS: 1800, currentDensityAPerM2: 150 }) // { thicknessUm: 14.7484, flags: [] }
 */
export function anodizingThickness(input: Conditions & { timeS: number }): {
  thicknessUm: number;
  flags: string[];
} {
  const timeS = checkNumber('timeS', input.timeS, { min: 0, max: 86_400 });
  const { density, constant } = checkConditions(input);
  const thicknessUm = (density * timeS) / (60 * constant);
  return { thicknessUm, flags: flagsOf(density, thicknessUm) };
}

function checkConditions({ metal, currentDensityAPerM2, ruleConstant }: Conditions): {
  density: number;
  constant: number;
} {
  if (metal !== undefined && metal !== 'aluminium') {
    const allowed = 'aluminium in sulfuric acid; elsewhere this rule does not hold';
    throw new CalcError({ code: 'impossible', argument: 'metal', given: metal, allowed });
  }
  return {
    density: checkNumber('currentDensityAPerM2', currentDensityAPerM2, { above: 0, max: 5000 }),
    constant: checkNumber('ruleConstant', ruleConstant ?? RULE_CONSTANT, { min: 250, max: 400 }),
  };
}

function flagsOf(density: number, thicknessUm: number): string[] {
  const { low, high } = PUBLISHED_A_PER_M2;
  // A density converted from A/ft2 may miss the bound by the last figure.
  const published = density >= low * (1 - 1e-9) && density <= high * (1 + 1e-9);
  return [
    published ? '' : 'outside 129 to 431 A/m² (12 to 40 A/ft²), the range of the published times',
    thicknessUm <= PUBLISHED_UM * (1 + 1e-9) ? '' : 'above 25.4 µm the rule promises more than grows',
  ].filter(Boolean);
}
