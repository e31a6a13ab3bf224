import { checkName, checkNumber } from '../check.ts';
import { FARADAY_C_PER_MOL } from './constants.ts';
import { OXIDE_NAMES, type OxideName, OXIDES } from './data/oxides.ts';

/**
 * Thickness of oxide that a charge makes, by Faraday's law: d = efficiency q M / (n F density).
 *
 * `efficiency` is the share of the charge that ends in the film; the rest makes oxygen or dissolves metal. Left out, it is
 * taken as 1, and the result is an upper bound and says so. On steel in hot caustic the share is of the order of 1 to 10
 * per cent, so the bound is no prediction there; on titanium, niobium, tantalum and zirconium the voltage sets the
 * thickness, not the charge.
 *
 * Units: C/m2 of coated area (0 or more), nm of dense oxide. Source: Faraday's law; densities from the CRC Handbook, that
 * of anodic alumina recalled. Errors: `unknown` for the oxide, `not-finite`, `out-of-range`.
 *
 * @example
 * oxideThickness({ chargeCPerM2: 10_000, oxide: 'TiO2_anatase', efficiency: 1 })
 * // { thicknessNm: 530.611, upperBound: false, flags: [] }
 */
export function oxideThickness(input: {
  chargeCPerM2: number;
  oxide: OxideName;
  efficiency?: number | undefined;
}): {
  thicknessNm: number;
  /** The efficiency was not given: there is no more oxide than this. */
  upperBound: boolean;
  flags: string[];
} {
  const chargeCPerM2 = checkNumber('chargeCPerM2', input.chargeCPerM2, { min: 0 });
  const { efficiency, ...known } = efficiencyOf(input);
  return { thicknessNm: efficiency * chargeCPerM2 * nmPerCPerM2(input.oxide), ...known };
}

/**
 * Charge that a thickness of oxide takes, the inverse of {@link oxideThickness}. Without an efficiency it is the least
 * charge that could make the film, and says so.
 *
 * Units: nm (0 or more), C/m2 of coated area. Source and errors: as {@link oxideThickness}; an efficiency of zero makes no
 * film and is refused.
 *
 * @example
 * chargeForThickness({ thicknessNm: 100, oxide: 'TiO2_anatase', efficiency: 1 })
 * // { chargeCPerM2: 1884.62, lowerBound: false, flags: [] }
 */
export function chargeForThickness(input: {
  thicknessNm: number;
  oxide: OxideName;
  efficiency?: number | undefined;
}): {
  chargeCPerM2: number;
  /** The efficiency was not given: it takes no less charge than this. */
  lowerBound: boolean;
  flags: string[];
} {
  const thicknessNm = checkNumber('thicknessNm', input.thicknessNm, { min: 0 });
  const { efficiency, upperBound, flags } = efficiencyOf(input);
  return {
    chargeCPerM2: thicknessNm / (efficiency * nmPerCPerM2(input.oxide)),
    lowerBound: upperBound,
    flags,
  };
}

/** M in g/mol over g/cm3 is cm3/mol, 1e-6 m3/mol; metres to nanometres is 1e9. */
function nmPerCPerM2(oxide: OxideName): number {
  const { molarMassGPerMol, electrons, densityGPerCm3 } = OXIDES[checkName('oxide', oxide, OXIDE_NAMES)];
  return (1000 * molarMassGPerMol) / (electrons * FARADAY_C_PER_MOL * densityGPerCm3);
}

function efficiencyOf({ oxide, efficiency }: { oxide: OxideName; efficiency?: number | undefined }) {
  const metal = OXIDES[checkName('oxide', oxide, OXIDE_NAMES)].metal;
  const upperBound = efficiency === undefined;
  const flags = upperBound
    ? ['efficiency not known: all charge is taken to make oxide, which is a bound']
    : [];
  if (upperBound && metal === 'iron')
    flags.push('on steel in hot caustic only some 1 to 10 % of the charge makes oxide');
  return {
    efficiency: checkNumber('efficiency', efficiency ?? 1, { above: 0, max: 1 }),
    upperBound,
    flags,
  };
}
